// What was done while the hub was gone: kept on the device, in order, until it was taken.
// An act gets its number when it is first sent; with that number it is sent until it is answered.

const PLACE = "partsbench-kept";
const COUNT = "partsbench-last";

export class Kept {
  constructor(store = window.localStorage) {
    this.store = store;
    this.acts = JSON.parse(store.getItem(PLACE) || "[]");
    this.last = Number(store.getItem(COUNT) || 0);
  }

  // An act at the end of the row; false where the device has no room for it.
  add(act) {
    this.acts.push({ ...act, made: Date.now(), clock: performance.now(), run: Kept.run });
    if (this.write()) return true;
    this.acts.pop();
    return false;
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
      this.write();
    }
    // Within one opening of the page the steady clock counts: a wall clock may be set meanwhile.
    const age = act.run === Kept.run ? performance.now() - act.clock : Date.now() - act.made;
    const { made, clock, run, picture, ...sent } = act;
    return { ...sent, age_ms: Math.max(0, Math.round(age)) };
  }

  // The first act was answered.
  taken(number) {
    this.acts.shift();
    this.last = number;
    this.write();
  }

  // The first is replaced by what was found in it: a photograph by its codes.
  instead(acts) {
    const { made, clock, run, seen } = this.acts.shift();
    this.acts.unshift(...acts.map((act) => ({ seen, ...act, made, clock, run })));
    this.write();
  }

  // Where the hub counts from, as it says itself; what has a number keeps it.
  from(last) {
    this.last = Math.max(this.last, last);
    this.write();
  }

  // The hub expects another number: the act was not taken under the one it has.
  renumber(expects) {
    this.last = expects - 1;
    if (this.first) this.first.number = expects;
    this.write();
  }

  write() {
    try {
      this.store.setItem(PLACE, JSON.stringify(this.acts));
      this.store.setItem(COUNT, String(this.last));
      return true;
    } catch {
      return false;
    }
  }
}
Kept.run = `${Date.now()}-${Math.random()}`;
