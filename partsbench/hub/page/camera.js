// The camera as a scanner: frames go to the hub's own reader, which says what counts.

const EVERY_MS = 120;
const WIDEST = 1280;
const GONE_MS = 2000;
const FORGOTTEN_MS = 60000;
const MOST_MARKS = 50;
const PHOTO = 2400;

export class Camera extends EventTarget {
  constructor(hub, video) {
    super();
    this.hub = hub;
    this.video = video;
    this.canvas = document.createElement("canvas");
    this.seen = new Map();
    this.heard = [];
    this.on = false;
    this.read = 0;
    this.frames = 0;
  }

  // False where the browser gives no live camera: then a photograph is the way.
  get isThere() {
    return Boolean(window.isSecureContext && navigator.mediaDevices && navigator.mediaDevices.getUserMedia);
  }

  async start() {
    const wish = { video: { facingMode: { ideal: "environment" }, width: { ideal: 1280 }, height: { ideal: 720 } }, audio: false };
    this.stream = await navigator.mediaDevices.getUserMedia(wish);
    this.video.srcObject = this.stream;
    await this.video.play();
    this.on = true;
    this.began = performance.now();
    this.run();
    this.run();
  }

  stop() {
    this.on = false;
    for (const track of this.stream ? this.stream.getTracks() : []) track.stop();
    this.video.srcObject = null;
  }

  // Two run at once, so that a frame is on its way while another is read.
  async run() {
    while (this.on) {
      const began = performance.now();
      if (document.hidden) await pause(500);
      else if (this.hub.here) await this.look();
      else await this.lookAlone();
      const left = EVERY_MS - (performance.now() - began);
      await pause(Math.max(left, 5));
    }
  }

  async look() {
    const blob = await this.frame(this.video, this.video.videoWidth, this.video.videoHeight, WIDEST, 0.75);
    if (!blob || !this.on) return;
    const { status, data } = await this.hub.post("/api/frame", blob, "image/jpeg");
    if (status !== 200) return;
    this.frames += 1;
    const now = performance.now();
    for (const text of data.codes) this.seen.set(text, now);
    this.dispatchEvent(new CustomEvent("hint", { detail: data.hint }));
    for (const count of data.counts) {
      if (this.heard.includes(count.mark)) continue;
      this.heard = [count.mark, ...this.heard].slice(0, MOST_MARKS);
      this.tell(count.text, count.again);
    }
  }

  tell(text, again) {
    this.dispatchEvent(new CustomEvent("code", { detail: { text, again } }));
  }

  // The hub is gone: some browsers read plain symbols by themselves. What was seen within a minute
  // may have been there all the time.
  async lookAlone() {
    if (!("BarcodeDetector" in window)) return pause(500);
    this.own ||= new window.BarcodeDetector({ formats: ["qr_code"] });
    const found = await this.own.detect(this.video).catch(() => []);
    const now = performance.now();
    for (const { rawValue: text } of found) {
      if (!/^[0-9A-Z]{4}-[0-9A-Z]{5}$/.test(text)) continue;
      const since = now - (this.seen.get(text) ?? -Infinity);
      this.seen.set(text, now);
      if (since > GONE_MS) this.tell(text, since < FORGOTTEN_MS);
    }
  }

  async frame(source, width, height, widest, quality) {
    if (!width || !height) return null;
    const scale = Math.min(1, widest / Math.max(width, height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(width * scale);
    canvas.height = Math.round(height * scale);
    canvas.getContext("2d").drawImage(source, 0, 0, canvas.width, canvas.height);
    return new Promise((done) => canvas.toBlob(done, "image/jpeg", quality));
  }

  // A photograph from a file, as JPEG of a size that is read; null for what is no picture.
  async photograph(file) {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" }).catch(() => null);
    return picture && this.frame(picture, picture.width, picture.height, PHOTO, 0.85);
  }
}

function pause(ms) {
  return new Promise((done) => setTimeout(done, ms));
}

export function asText(blob) {
  return new Promise((done) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result);
    reader.readAsDataURL(blob);
  });
}
