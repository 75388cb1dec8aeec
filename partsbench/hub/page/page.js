// The bench in the hand.

import { Camera, asText } from "/camera.js";
import { Hub } from "/hub.js";
import { $, lines, make, presses, showAnswer, showBench, showPlain } from "/show.js";
import { find, showClient, showDay, showMap, showProof, showVerbs } from "/views.js";

const hub = new Hub();
const camera = new Camera(hub, $("video"));
let me = null;
let bench = null;
let last = null;
let view = "hand";
let hint = "";
const AGAIN = "Seen again: nothing is recorded by that. Press a button, or scan another label.";
const LATE_MS = 20000;
const MOST_NEWS = 8;

// Pairing: the secret of the QR code stands behind #, which browsers send to nobody.

function showPairing(told) {
  for (const each of document.querySelectorAll("main")) each.hidden = each.id !== "pairing";
  $("tabs").hidden = true;
  $("piece").hidden = true;
  $("pairing-told").textContent = told;
}

async function pair(event) {
  event.preventDefault();
  const secret = location.hash.slice(1);
  const { status, data } = await hub.post("/api/pair", { secret, name: $("pair-name").value, person: $("pair-person").value });
  if (status === 200) {
    hub.paired = true;
    history.replaceState(null, "", "/");
    const others = hub.kept.anew(data.person);
    await begin();
    for (const each of others) tellNews(`Not sent, for ${each.by} did it: ${whatOf(each)}`);
  } else {
    $("pairing-told").textContent = status ? data.sentence : "The hub is gone.";
  }
}

// The bench

async function begin() {
  const { status, data } = await hub.get("/api/me");
  if (status === 401) {
    hub.kept.remember(null);
    return showPairing(location.hash.length > 1 ? "Say which device this is, and who holds it." : "Scan the code at the window, or at the terminal.");
  }
  if (status === 200) {
    if (me) showPlain("The hub is back.");
    hub.kept.from(data.last);
    hub.kept.remember(data);
    start(data);
    hub.send();
    hub.hear();
    if (!bench.tag && !hub.kept.first && me.pieces.length) turn("Bench", me.pieces[0].tag);
    return;
  }
  if (!me && hub.kept.me) {
    start(hub.kept.me);
    showPlain("The hub is gone. What is scanned now is kept on this device.");
  }
  if (!me) showPairing("The hub is gone.");
  setTimeout(begin, 1500);
}

// How things stand, as the hub says it, or said it last.
function start(data) {
  me = data;
  me.undo = code("UNDO");
  me.off = code("VERB OFF");
  hub.person = data.person;
  hub.seen = Math.max(hub.seen, data.stands.seen);
  bench = data.stands.bench;
  $("tabs").hidden = $("piece").hidden = false;
  choices();
  showVerbs(me, (text) => scan(text, true, true));
  show("hand");
  drawBench();
  drawLink(hub.here);
  $("device").textContent = `${data.device} of ${data.person}`;
}

function code(name) {
  return me.verbs.flatMap((group) => group.verbs).find((verb) => verb.name === name).code;
}

function choices() {
  const named = me.pieces.map((p) => {
    const option = make("option", [p.codename, p.title].filter(Boolean).join(", "), { value: p.tag });
    option.selected = Boolean(bench) && p.tag === bench.tag;
    return option;
  });
  $("piece").replaceChildren(make("option", "No piece at work", { value: "" }), ...named);
  $("piece").value = bench ? bench.tag : "";
  $("places").replaceChildren(...me.places.map((place) => make("option", "", { value: place })));
}

function drawBench() {
  showBench(bench);
  presses(bench, last, me, { push, scan: (text) => scan(text, true), say, prove });
  $("piece").value = bench.tag;
  const hand = bench.hand;
  $("about").textContent = hand.ours ? `About ${hand.part}` : "No part in hand";
}

function act(what) {
  if (!hub.here) showPlain("Kept on this device; it is sent when the hub is back.");
  return hub.do(what);
}

function scan(text, typed, away) {
  if (away) show("hand");
  act({ doing: "scan", text, typed });
}

// By the camera. What it sees again may never have been away: the hub records nothing by that.
function seen({ text, again }) {
  if (again) $("eye-told").textContent = AGAIN;
  act({ doing: "scan", text, typed: false, again });
}

function push(key, text = "") {
  act({ doing: "push", push: key, text });
}

// What is on the part in the hand, or on all of its piece.
function say(answer, whole) {
  act({ doing: "old finish", label: bench.hand.code, text: answer, whole });
}

function prove() {
  show("proof");
  showProof(hub, bench.tag);
}

function turn(mode, tag) {
  Object.assign(bench, { mode, tag });
  act({ doing: "turn", mode, tag });
}

hub.addEventListener("answer", ({ detail: { act: done, reply } }) => {
  bench = reply.bench;
  hub.kept.remember({ ...me, stands: { ...me.stands, bench, seen: reply.seen } });
  const said = reply.outcomes.at(-1);
  if (said) {
    last = said;
    showAnswer(said);
    buzz(said);
  } else if (done.doing === "turn") {
    last = null;
    showPlain(bench.mode === "Bench" ? "Scan a label." : bench.board[0] || "Scan a label.");
  }
  if (said && done.age_ms > LATE_MS) tellNews(`Sent late: ${said.sentence}`);
  if (reply.wishes.length && !said) showPlain(reply.wishes[0]);
  else if (reply.wishes.length) lines($("checks"), reply.wishes);
  drawBench();
});
hub.addEventListener("refused", ({ detail }) => showPlain(detail.sentence, "STOP"));
hub.addEventListener("full", () => showPlain("This device has no room left: that was not kept. Wait for the hub.", "STOP"));
hub.addEventListener("probable", ({ detail }) => {
  showPlain("Too little is left to read for certain. Is it one of these?");
  $("presses").replaceChildren(...detail.map((each) => make("button", each.sentence, { type: "button", press: () => scan(each.code, true) })));
});
hub.addEventListener("link", ({ detail }) => drawLink(detail));
hub.addEventListener("kept", () => drawLink(hub.here));
hub.addEventListener("out", ({ detail }) => showPairing(detail.sentence));
hub.addEventListener("news", ({ detail }) => {
  const others = detail.filter((entry) => entry.who !== me.person);
  for (const entry of others) tellNews(`${entry.who || "Somebody"}: ${entry.sentence}`);
  // What is armed stands on what was seen with it; anything else may go on from here.
  const newest = detail.at(-1).id;
  if (bench && !["armed", "asked", "held"].includes(bench.hand.waits)) hub.seen = Math.max(hub.seen, newest);
  if (view === "map") showMap(hub, bench.tag);
});

function tellNews(text) {
  $("news").prepend(make("li", text));
  while ($("news").children.length > MOST_NEWS) $("news").lastChild.remove();
}

function drawLink(here) {
  const kept = hub.kept.acts.length;
  const link = $("link");
  link.className = here ? "link here" : "link gone";
  link.textContent = here ? (kept ? `sending ${kept}` : "hub ✓") : `hub gone · ${kept} kept`;
  lines($("kept"), hub.kept.acts.map(whatOf));
}

function whatOf(act) {
  return `${act.doing}: ${act.text || act.push || act.mode || "a photograph"}`;
}

function buzz(said) {
  if (navigator.vibrate) navigator.vibrate(said.recorded ? [60] : said.answer === "GO" ? [30] : [80, 60, 80]);
}

// Pages

function show(name) {
  view = name;
  for (const each of document.querySelectorAll("main")) each.hidden = each.id !== name;
  for (const tab of document.querySelectorAll("#tabs button")) {
    const on = tab.dataset.view ? tab.dataset.view === name : name === "hand" && bench && tab.dataset.mode === bench.mode;
    tab.setAttribute("aria-pressed", String(Boolean(on)));
  }
  scrollTo(0, 0);
}

$("tabs").addEventListener("click", ({ target }) => {
  const { mode, view: name } = target.dataset;
  if (mode) {
    show("hand");
    if (bench.mode !== mode) turn(mode, bench.tag);
    else drawBench();
  } else if (name) {
    show(name);
    if (name === "map") showMap(hub, bench.tag);
    if (name === "day") showDay(hub);
    if (name === "more" && me.sees_clients && bench.tag) showClient(hub, bench.tag);
  }
});
$("piece").addEventListener("change", ({ target }) => {
  turn(bench.mode, target.value);
  if (view === "map") showMap(hub, target.value);
});
$("pair-form").addEventListener("submit", pair);
$("typing").addEventListener("submit", (event) => {
  event.preventDefault();
  const text = $("code").value.trim().toUpperCase();
  $("code").value = "";
  if (text) scan(text, true);
});
$("find-form").addEventListener("submit", (event) => {
  event.preventDefault();
  find(hub, $("find-text").value);
});
$("put-form").addEventListener("submit", (event) => {
  event.preventDefault();
  if (bench.hand.ours && $("put-text").value) act({ doing: "put", label: bench.hand.code, text: $("put-text").value });
  show("hand");
});
$("note-form").addEventListener("submit", (event) => {
  event.preventDefault();
  if (bench.hand.ours && $("note-text").value) act({ doing: "note", label: bench.hand.code, text: $("note-text").value });
  $("note-text").value = "";
  show("hand");
});

// The camera, photographs, and a screen that stays awake

camera.addEventListener("code", ({ detail }) => seen(detail));
camera.addEventListener("hint", ({ detail }) => detail !== hint && ($("eye-told").textContent = hint = detail));
$("camera").addEventListener("click", async () => {
  if (camera.on) {
    camera.stop();
    $("video").hidden = true;
    $("camera").textContent = "Camera";
    return;
  }
  if (!camera.isThere) return void ($("eye-told").textContent = "This browser gives no live camera: use a photograph.");
  try {
    await camera.start();
    $("video").hidden = false;
    $("camera").textContent = "Camera off";
    $("eye-told").textContent = "";
  } catch (error) {
    $("eye-told").textContent = `The camera is not given (${error.name}): use a photograph, or type the code.`;
  }
});
$("photo").addEventListener("change", async ({ target }) => {
  const [file] = target.files;
  target.value = "";
  const picture = file && (await camera.photograph(file));
  if (!picture) return void ($("eye-told").textContent = "That is no picture that this browser opens.");
  showPlain("The photograph is read…");
  act({ doing: "picture", picture: await asText(picture) });
});

async function stayAwake() {
  if (!("wakeLock" in navigator) || document.hidden) return;
  await navigator.wakeLock.request("screen").catch(() => null);
}
document.addEventListener("visibilitychange", stayAwake);
document.addEventListener("click", stayAwake, { once: true });
stayAwake();

// The page itself is kept for a time without the hub, where the browser lets it.
async function keepPage() {
  if (!navigator.serviceWorker) return false;
  const plain = { createScriptURL: (path) => path };
  const named = window.trustedTypes ? window.trustedTypes.createPolicy("partsbench", plain) : plain;
  return navigator.serviceWorker.register(named.createScriptURL("/worker.js")).then(() => true, () => false);
}

async function only() {
  await hub.kept.open();
  hub.keepsPage = keepPage();
  if (!navigator.locks) return begin();
  const held = await navigator.locks.request("partsbench", { ifAvailable: true }, (lock) => {
    if (!lock) return false;
    begin();
    return new Promise(() => {});
  });
  if (held === false) showPairing("The bench is open in another tab of this browser; close that one, then load this again.");
}
only();
window.partsbench = { hub, camera };
