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

// The buttons for what may be done with what is in the hand. `acts` does what is pressed.
export function presses(bench, last, offered, acts) {
  const { hand, mode } = bench;
  const { push, scan } = acts;
  const found = [];
  const add = (text, press, kind = "") => found.push(make("button", text, { type: "button", press, class: kind && `${kind} firm` }));
  const waits = hand.waits;
  if (waits === "armed") add(mode === "Return" ? "It is home" : mode === "Teardown" ? "It is out" : "Record", () => push("Enter"), "main");
  if (waits === "asked") add("It is so: record", () => push("Enter"), "main");
  if (waits === "of another job") add("Go to that piece", () => push("Enter"), "main");
  if (mode === "Load" && waits !== "asked") add(bench.load ? `Record load ${bench.load}${bench.left_out ? ` but ${bench.left_out}` : ""}` : "Take the next load", () => push("Enter"), "main");
  if (hand.asks.length) {
    add("What is on it?", goToAsks, "main");
    found.push(...oldFinish(hand, acts.say));
  }
  if (waits === "held") {
    const rule = hand.holds[0] ? `“${hand.holds[0]}”` : "what was refused";
    found.push(make("p", `Insist against ${rule}: why?`));
    for (const reason of offered.reasons) add(reason, () => push("a reason", reason));
  }
  if (mode === "Bench" && ["armed", "held", "asked", "shown"].includes(waits) && hand.due) add("Leave the step out", () => push("skip"));
  if (hand.steps.length) found.push(choice("Another step", hand.steps.map((step) => [step.name, step.key, step.key === hand.step]), (key) => push("a step", key)));
  if (hand.faces.length) found.push(choice(hand.face ? `Face: ${hand.face}` : "One face only", [["All together", "", !hand.face], ...hand.faces.map((face) => [face, face, face === hand.face])], (face) => push("a face", face)));
  if (mode === "Teardown") {
    add("It stays in", () => push("stays in"));
    add("All the rest stays in", () => push("the rest"));
  }
  if (mode === "Return") add("The rest by elimination", () => push("the rest"));
  if (mode === "Return" && bench.tag) add("Proof", acts.prove);
  if (mode === "Return" && hand.fits && waits === "recorded") for (const fit of offered.fits) add(fit, () => push("how it runs", fit));
  if (last && last.recorded) add("Undo mine", () => scan(offered.undo));
  if (bench.verb) add(`${bench.verb}: off`, () => scan(offered.off));
  if (waits !== "nothing in hand") add("Put it down", () => push("Esc"));
  $("presses").replaceChildren(...found);
}

// One of several, behind a button that opens them. Each is [words, what is sent, whether it holds].
function choice(name, options, press) {
  const box = make("details", "", { class: "choice" });
  const list = make("div", "", { class: "presses" });
  for (const [words, sent, holds] of options) {
    list.append(make("button", words, { type: "button", "aria-pressed": String(holds), press: () => press(sent) }));
  }
  box.append(make("summary", name, { class: "button" }), list);
  return box;
}

function goToAsks({ currentTarget }) {
  currentTarget.remove();
  $("asks").scrollIntoView();
}

// Nobody has said yet what is on it, and that holds it: the answers, of the part or of its piece.
function oldFinish(hand, say) {
  const whole = make("input", "", { type: "checkbox", id: "whole" });
  const label = make("label", "Of the whole piece", { class: "tick" });
  label.prepend(whole);
  const answers = hand.asks.map((each) => {
    const button = make("button", each.name, { type: "button", class: "answer-old", press: () => say(each.code, whole.checked) });
    button.append(make("small", each.says));
    return button;
  });
  return [make("p", `What is on ${hand.part}?`, { id: "asks" }), label, ...answers];
}
