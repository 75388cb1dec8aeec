// The camera as a scanner: frames go to the hub's own reader; a label counts once until it leaves.

const EVERY_MS = 120;
const WIDEST = 1280;
const GONE_AFTER = 4;
const PHOTO = 2400;

export class Camera extends EventTarget {
  constructor(hub, video) {
    super();
    this.hub = hub;
    this.video = video;
    this.canvas = document.createElement("canvas");
    this.inSight = new Map();
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
    this.inSight.clear();
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
    this.saw(data.codes);
  }

  // The hub is gone: some browsers read plain symbols by themselves.
  async lookAlone() {
    if (!("BarcodeDetector" in window)) return pause(500);
    this.own ||= new window.BarcodeDetector({ formats: ["qr_code"] });
    const found = await this.own.detect(this.video).catch(() => []);
    this.saw(found.map((each) => each.rawValue).filter((text) => /^[0-9A-Z]{4}-[0-9A-Z]{5}$/.test(text)));
  }

  // What is new in sight counts once; what was not seen in some frames has left.
  saw(codes) {
    for (const [text, missed] of this.inSight) this.inSight.set(text, missed + 1);
    for (const text of codes) {
      if (!this.inSight.has(text)) this.dispatchEvent(new CustomEvent("code", { detail: text }));
      this.inSight.set(text, 0);
    }
    for (const [text, missed] of this.inSight) if (missed > GONE_AFTER) this.inSight.delete(text);
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
