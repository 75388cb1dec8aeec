// The pages beside the bench: verbs, the progress map, the day, find.

import { $, lines, make } from "/show.js";

const SVG = "http://www.w3.org/2000/svg";

function draw(name, more) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(more)) made.setAttribute(key, String(value));
  return made;
}

export function showVerbs(offered, scan) {
  const groups = offered.verbs.map(({ group, verbs }) => {
    const box = make("section", "", { class: "verb-group" });
    box.append(make("h2", group));
    for (const verb of verbs) box.append(make("button", verb.name, { type: "button", title: verb.says, press: () => scan(verb.code) }));
    return box;
  });
  const back = make("section", "", { class: "verb-group" });
  back.append(make("h2", "Why it is sent back, after SENT BACK"));
  for (const reason of offered.back) back.append(make("button", reason.name, { type: "button", press: () => scan(reason.code) }));
  $("verb-list").replaceChildren(...groups, back);
}

export async function showMap(hub, tag) {
  if (!tag) return void ($("map-told").textContent = "Choose a piece first.");
  const { status, data } = await hub.get(`/api/map?tag=${encodeURIComponent(tag)}`);
  if (status !== 200) return void ($("map-told").textContent = data.sentence || "The hub is gone.");
  $("map-told").textContent = data.sentence;
  const stands = new Map(data.parts.map((each) => [each.part, each]));
  const svg = draw("svg", { viewBox: `0 0 100 ${100 * data.ratio}`, role: "img", "aria-label": data.sentence });
  const tall = data.ratio;
  for (const box of [...data.boxes].sort((a, b) => a.behind - b.behind)) svg.append(opening(box, tall, stands.get(box.part)));
  $("map-drawing").replaceChildren(svg);
  lines($("map-list"), data.parts.map((p) => [p.part, p.steps, p.stand, p.behind ? "behind" : "", p.words].filter(Boolean).join(" · ")));
}

function opening(box, tall, stand) {
  const [x, y, width, height] = [box.x, box.y * tall, box.width, box.height * tall];
  const group = draw("g", { class: stand ? stand.stand : "" });
  group.append(draw("rect", { x, y, width, height }));
  if (stand) group.append(draw("rect", { class: "share", x: x + 0.6, y: y + 0.6, width: Math.max(0, (width - 1.2) * stand.share), height: height - 1.2 }));
  const size = Math.min(height * 0.5, width * 0.3, 9);
  const text = draw("text", { x: x + width / 2, y: y + height / 2, "font-size": size });
  text.textContent = box.part;
  group.append(text);
  return group;
}

export async function showDay(hub) {
  const { status, data } = await hub.get("/api/day");
  if (status !== 200) return $("day-lines").replaceChildren(make("p", data.sentence || "The hub is gone."));
  const found = [make("p", data.sentence, { class: "step" }), make("p", data.because, { class: "quiet" })];
  const parts = [["", data.said], ["To do now", data.tasks], ["Waits", data.waits], ["Open", data.open]];
  for (const [title, texts] of parts) {
    if (!texts.length) continue;
    if (title) found.push(make("h2", title));
    const list = make("ul", "", { class: "lines" });
    lines(list, texts);
    found.push(list);
  }
  $("day-lines").replaceChildren(...found);
}

export async function showProof(hub, tag) {
  const asked = `tag=${encodeURIComponent(tag)}`;
  const { status, data } = await hub.get(`/api/proof?${asked}`);
  const there = status === 200;
  $("proof-verdict").textContent = there ? data.verdict : data.sentence || "The hub is gone.";
  $("proof-sheet").hidden = !there;
  $("proof-sheet").href = `/api/proof.pdf?${asked}`;
  lines($("proof-notes"), there ? data.reservations : []);
  lines($("proof-parts"), there ? data.parts : []);
}

export async function find(hub, asked) {
  const { status, data } = await hub.get(`/api/find?asked=${encodeURIComponent(asked)}`);
  lines($("found"), status === 200 ? (data.lines.length ? data.lines : ["Nothing is found."]) : [data.sentence || "The hub is gone."]);
}

export async function showClient(hub, tag) {
  const { status, data } = await hub.get(`/api/client?tag=${encodeURIComponent(tag)}`);
  const words = status === 200 ? Object.values(data).filter(Boolean).join(", ") || "No client is noted." : data.sentence;
  $("client").replaceChildren(make("p", words));
}
