// Draws answers. All that comes from the hub is put in as text, never as markup.

export const $ = (id) => document.getElementById(id);

export function make(name, text = "", more = {}) {
  const made = document.createElement(name);
  made.textContent = text;
  for (const [key, value] of Object.entries(more)) {
    if (key === "press") made.addEventListener("click", value);
    else if (key === "class") made.className = value;
    else made.setAttribute(key, value);
  }
  return made;
}

export function lines(list, texts) {
  list.replaceChildren(...texts.map((text) => make("li", text)));
}

// The large number, the word, the sentence; cautions and what has to be so below.
export function showAnswer(said) {
  const card = $("answer");
  card.dataset.answer = said.answer;
  card.classList.toggle("recorded", said.recorded);
  $("part").textContent = said.part || "—";
  $("word").textContent = said.recorded && said.answer === "GO" ? "✓ recorded" : said.answer;
  $("step").textContent = said.step;
  $("sentence").textContent = said.sentence;
  $("because").textContent = [said.because, said.note, said.source].filter(Boolean).join(" · ");
  lines($("cautions"), [...said.cautions, ...said.warnings]);
  lines($("checks"), said.checks);
}

export function showPlain(sentence, answer = "") {
  showAnswer({ answer, recorded: false, part: "", step: "", sentence, because: "", note: "", source: "", cautions: [], warnings: [], checks: [] });
}

export function showBench(bench) {
  $("expects").textContent = bench.expects;
  lines($("board"), bench.board);
  for (const tab of document.querySelectorAll("#tabs button[data-mode]")) {
    tab.setAttribute("aria-pressed", String(tab.dataset.mode === bench.mode && !$("hand").hidden));
  }
}

// The buttons for what may be done with what is in the hand.
export function presses(bench, last, offered, push, scan) {
  const { hand, mode } = bench;
  const found = [];
  const add = (text, press, kind = "") => found.push(make("button", text, { type: "button", press, class: kind && `${kind} firm` }));
  const waits = hand.waits;
  if (waits === "armed") add(mode === "Return" ? "It is home" : mode === "Teardown" ? "It is out" : "Record", () => push("Enter"), "main");
  if (waits === "asked") add("It is so: record", () => push("Enter"), "main");
  if (waits === "of another job") add("Go to that piece", () => push("Enter"), "main");
  if (mode === "Load" && waits !== "asked") add(bench.load ? `Record load ${bench.load}${bench.left_out ? ` but ${bench.left_out}` : ""}` : "Take the next load", () => push("Enter"), "main");
  if (waits === "held") {
    const rule = hand.holds[0] ? `“${hand.holds[0]}”` : "what was refused";
    found.push(make("p", `Insist against ${rule}: why?`));
    for (const reason of offered.reasons) add(reason, () => push("a reason", reason));
  }
  if (mode === "Bench" && ["armed", "held", "asked", "shown"].includes(waits) && hand.due) add("Leave the step out", () => push("skip"));
  if (mode === "Teardown") {
    add("It stays in", () => push("stays in"));
    add("All the rest stays in", () => push("the rest"));
  }
  if (mode === "Return") add("The rest by elimination", () => push("the rest"));
  if (mode === "Return" && hand.fits && waits === "recorded") for (const fit of offered.fits) add(fit, () => push("how it runs", fit));
  if (last && last.recorded) add("Undo mine", () => scan(offered.undo));
  if (bench.verb) add(`${bench.verb}: off`, () => scan(offered.off));
  if (waits !== "nothing in hand") add("Put it down", () => push("Esc"));
  $("presses").replaceChildren(...found);
}
