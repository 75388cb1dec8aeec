// What was done while the hub was gone: kept on the device, in order, until it was taken.
// An act gets its number when it is first sent; with that number it is sent until it is answered.
// It is on the device's disk before it is said to be kept: a flat battery loses nothing.

const NAME = "partsbench";
const ONE_STEP = 1 / 4096;

function opened() {
  return new Promise((done, fail) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("acts", { keyPath: "place" });
      asked.result.createObjectStore("told");
    };
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
}

function answer(asked) {
  return new Promise((done, fail) => {
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
}

export class Kept {
  constructor() {
    this.acts = [];
    this.last = 0;
    this.me = null;
    this.disk = null;
  }

  // Before anything else: what was kept when the page was open last. Without a disk, it keeps in
  // memory only.
  async open() {
    try {
      this.disk = await opened();
      const reading = this.disk.transaction(["acts", "told"]);
      const told = reading.objectStore("told");
      const [acts, last, me] = await Promise.all(
        [reading.objectStore("acts").getAll(), told.get("last"), told.get("me")].map(answer));
      Object.assign(this, { acts, last: last || 0, me: me || null });
      navigator.storage?.persist?.();
    } catch {
      this.disk = null;
    }
  }

  // Change what is kept, wholly or not at all; true when it is on the disk.
  write(change) {
    if (!this.disk) return Promise.resolve(false);
    return new Promise((done) => {
      const writing = this.disk.transaction(["acts", "told"], "readwrite", { durability: "strict" });
      writing.oncomplete = () => done(true);
      writing.onerror = writing.onabort = () => done(false);
      const told = writing.objectStore("told");
      change(writing.objectStore("acts"), told);
      told.put(this.last, "last");
    });
  }

  // An act at the end of the row. The promise: whether it is kept.
  add(act) {
    const place = Math.floor(this.acts.at(-1)?.place ?? 0) + 1;
    const made = { ...act, place, made: Date.now(), clock: performance.now(), run: Kept.run };
    this.acts.push(made);
    return [made, this.write((acts) => acts.put(made))];
  }

  // The device had no room for it.
  drop(act) {
    this.acts = this.acts.filter((each) => each !== act);
    return this.write((acts) => acts.delete(act.place));
  }

  get first() {
    return this.acts[0];
  }

  // What is sent now: with a number that stays, and with how long ago it was made.
  ready() {
    const act = this.first;
    if (!act) return null;
    if (!act.number) {
      act.number = this.last + 1;
      this.write((acts) => acts.put(act));
    }
    // Within one opening of the page the steady clock counts: a wall clock may be set meanwhile.
    const age = act.run === Kept.run ? performance.now() - act.clock : Date.now() - act.made;
    const { made, clock, run, picture, place, by, ...sent } = act;
    return { ...sent, age_ms: Math.max(0, Math.round(age)) };
  }

  // The first act was answered.
  taken(number) {
    const { place } = this.acts.shift();
    this.last = number;
    return this.write((acts) => acts.delete(place));
  }

  // The first is replaced by what was found in it: a photograph by its codes.
  instead(found) {
    const { place, made, clock, run, seen, by } = this.acts.shift();
    const put = found.map((act, n) => ({ seen, ...act, place: place + n * ONE_STEP, made, clock, run, by }));
    this.acts.unshift(...put);
    return this.write((acts) => {
      acts.delete(place);
      for (const act of put) acts.put(act);
    });
  }

  // Where the hub counts from, as it says itself; what has a number keeps it.
  from(last) {
    this.last = Math.max(this.last, last);
    return this.write(() => {});
  }

  // The hub expects another number: the act was not taken under the one it has.
  renumber(expects) {
    this.last = expects - 1;
    if (this.first) this.first.number = expects;
    return this.write((acts) => this.first && acts.put(this.first));
  }

  // How things stood at the bench, for a page that is opened while the hub is gone.
  remember(me) {
    this.me = me;
    return this.write((_, told) => told.put(me, "me"));
  }

  // Paired anew: numbers begin again, and what another person did is given back, not sent.
  anew(person) {
    this.last = 0;
    const others = this.acts.filter((act) => act.by && act.by !== person);
    this.acts = this.acts.filter((act) => !others.includes(act));
    for (const act of this.acts) delete act.number;
    this.write((acts) => {
      for (const act of others) acts.delete(act.place);
      for (const act of this.acts) acts.put(act);
    });
    return others;
  }
}
Kept.run = `${Date.now()}-${Math.random()}`;
