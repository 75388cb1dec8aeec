// Speaks with the hub: sends what was done in its order, hears what others did.

import { Kept } from "/kept.js";

const AGAIN_MS = 1500;
const WAITS = { "/api/picture": 60000, "/api/frame": 5000 };

function asBlob(text) {
  const bytes = atob(text.slice(text.indexOf(",") + 1));
  return new Blob([Uint8Array.from(bytes, (each) => each.charCodeAt(0))], { type: "image/jpeg" });
}

export class Hub extends EventTarget {
  constructor() {
    super();
    this.kept = new Kept();
    this.seen = 0;
    this.person = "";
    this.here = null;
    this.sending = false;
    this.paired = true;
  }

  // Something is to be told to whoever draws.
  tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }

  async get(path) {
    return this.ask(path, {});
  }

  async post(path, body, type = "application/json") {
    const sent = type === "application/json" ? JSON.stringify(body) : body;
    return this.ask(path, { method: "POST", body: sent, headers: { "content-type": type } });
  }

  // {status, data}; status 0 where the hub is gone.
  async ask(path, how) {
    let said;
    try {
      const signal = AbortSignal.timeout(WAITS[path] || (path.startsWith("/api/news") ? 40000 : 10000));
      said = await fetch(path, { ...how, signal, credentials: "same-origin", cache: "no-store" });
    } catch {
      this.at(false);
      return { status: 0, data: {} };
    }
    this.at(true);
    const data = await said.json().catch(() => ({ sentence: `The hub answered ${said.status}.` }));
    if (said.status === 401 && path !== "/api/pair") {
      this.paired = false;
      this.tell("out", data);
    }
    return { status: said.status, data };
  }

  at(here) {
    if (this.here === here) return;
    this.here = here;
    this.tell("link", here);
    if (here) this.send();
  }

  // Do one act: it is kept first, and sent as soon as its turn comes.
  async do(act) {
    const mark = crypto.randomUUID();
    const [made, kept] = this.kept.add({ ...act, mark, seen: this.seen, by: this.person });
    this.send();
    if (!(await kept) && !this.here && this.kept.acts.includes(made)) {
      this.kept.drop(made);
      this.tell("full", act);
    }
    this.tell("kept", this.kept.acts);
  }

  // Send what is kept, one act after the other, until the hub is gone or nothing is left.
  async send() {
    if (this.sending || !this.paired) return;
    this.sending = true;
    try {
      while (this.kept.first && (await this.sendFirst()));
    } finally {
      this.sending = false;
    }
    if (this.kept.first && this.paired) setTimeout(() => this.send(), AGAIN_MS);
  }

  async sendFirst() {
    if (this.kept.first.doing === "picture") return this.sendPicture();
    const act = this.kept.ready();
    const { status, data } = await this.post("/api/act", act);
    if (status === 200) {
      this.kept.taken(data.number);
      this.seen = data.seen;
      this.tell("answer", { act, reply: data });
    } else if (status === 409) {
      this.kept.renumber(data.expects);
    } else if (status === 400 || status === 413) {
      this.kept.taken(this.kept.last);
      this.tell("refused", { act, sentence: data.sentence });
    } else {
      return false;
    }
    this.tell("kept", this.kept.acts);
    return true;
  }

  // A photograph is read by the hub; what it finds takes its place in the row.
  async sendPicture() {
    const act = this.kept.first;
    const { status, data } = await this.post("/api/picture", asBlob(act.picture), "image/jpeg");
    if (status === 0 || status >= 429) return false;
    const codes = data.codes || [];
    this.kept.instead(codes.map((text) => ({ doing: "scan", text, mark: crypto.randomUUID() })));
    this.tell("kept", this.kept.acts);
    if (status !== 200) this.tell("refused", { act, sentence: data.sentence });
    else if (data.probable.length) this.tell("probable", data.probable);
    else if (!codes.length) this.tell("refused", { act, sentence: "No label was read in the photograph." });
    return true;
  }

  // What others record is heard here, one answer after the other, as long as the page is open.
  async hear() {
    if (this.hearing) return;
    this.hearing = true;
    let after = this.seen;
    while (this.paired) {
      const { status, data } = await this.get(`/api/news?after=${after}`);
      if (status === 200) {
        if (data.entries.length) after = data.entries.at(-1).id;
        if (data.entries.length) this.tell("news", data.entries);
      } else {
        await new Promise((done) => setTimeout(done, AGAIN_MS));
      }
    }
    this.hearing = false;
  }
}
