/* After the drop: the times that somebody saw, how it went, and what to do if it stopped,
   one question after the other. */

const LONGEST = 3600;
const HERE = "It is on its mark";

/* What is asked, with where each answer leads: another question, or a case. */
const ASKED = {
  where: ["Where did it stop?", [
    ["In the first half", "case:stopped-early"],
    ["Past the middle", "case:past-half"],
    ["It is in, but the flange is not down", "case:not-seated"],
    ["It is home", "clock"],
  ]],
  clock: ["Is it on its mark?", [
    [HERE, "done"],
    ["Off, and it still turns by hand", "case:off-clock-free"],
    ["Off, and it does not turn", "case:off-clock-gripped"],
  ]],
};

function made(name, text, className = "") {
  const one = document.createElement(name);
  one.textContent = text;
  if (className) one.className = className;
  return one;
}

export function bindAfter(main, figures, told, { entryEpoch, back }) {
  const question = main.querySelector("[data-question]");
  const choices = main.querySelector("[data-choices]");
  const form = main.querySelector("[data-times]");

  function press(words, act) {
    const one = made("button", words, "press");
    one.type = "button";
    one.addEventListener("click", act);
    return one;
  }

  function ask(name) {
    const [words, answers] = ASKED[name];
    question.textContent = words;
    const known = answers.filter(([, next]) => !next.startsWith("case:") || caseOf(next));
    const fit = known.filter(([, next]) => next !== "clock" || figures.hasPorts);
    choices.replaceChildren(
      ...fit.map(([answer, next]) => press(answer, () => go(next))),
      press("Back", back),
    );
  }

  /* Iron in iron has cases of its own; a case that this job cannot have is not asked. */
  function caseOf(next) {
    const key = next.replace("case:", "");
    return figures.cases[key] ?? (key === "past-half" ? figures.cases["iron-gripped"] : undefined);
  }

  function go(next) {
    if (next === "done") return back();
    if (!next.startsWith("case:")) return ask(next);
    const found = caseOf(next);
    question.textContent = found.do;
    choices.replaceChildren(made("p", `${found.title}. ${found.why}.`, "reason"),
      press("Another answer", () => ask("where")), press("Back", back));
  }

  function mark(name, words) {
    const field = form.elements[name];
    form.querySelector(`#time-${name}`).textContent = words;
    field.toggleAttribute("aria-invalid", Boolean(words));
    return Boolean(words);
  }

  function secondsOf(name) {
    const field = form.elements[name];
    const text = field?.value.trim().replace(",", ".") ?? "";
    if (!text || text === field.dataset.kept) return null;
    const value = /^\d{1,4}(\.\d{1,3})?$/.test(text) ? Number(text) : NaN;
    const isWrong = !(value >= 0 && value <= LONGEST);
    mark(name, isWrong ? `${text}: seconds from 0 to ${LONGEST}, as 4 or 4.5. Leave it empty where nobody saw it.` : "");
    return isWrong ? NaN : value;
  }

  async function keep(event) {
    event.preventDefault();
    const epoch = entryEpoch();
    const status = form.querySelector("[data-kept]");
    const found = ["clocked", "seated", "gripped", "still-loose"]
      .filter((name) => form.elements[name]).map((name) => [name, secondsOf(name)]);
    if (found.some(([, value]) => Number.isNaN(value))) return;
    const times = found.filter(([, value]) => value !== null);
    if (times.length && epoch === null) {
      status.textContent = "No entry is known on this screen: give the times on the stage's page.";
      return;
    }
    for (const [name, value] of times) {
      await told.happened(name, epoch, value, "afterwards");
      form.elements[name].dataset.kept = form.elements[name].value.trim();
    }
    const off = form.elements.off?.value.trim();
    if (off && off !== form.elements.off.dataset.kept) {
      await told.value("drop.clock_off", off);
      form.elements.off.dataset.kept = off;
    }
    status.textContent = "Kept.";
  }

  main.addEventListener("click", async (event) => {
    const went = event.target.closest("[data-went]");
    if (!went) return;
    for (const one of main.querySelectorAll("[data-went]")) one.setAttribute("aria-pressed", String(one === went));
    await told.value("drop.went", went.dataset.went);
    if (went.dataset.went === "clocked wrong") form.elements.off?.focus();
  });
  form.addEventListener("submit", keep);

  return {
    ask,
    fill(given) {
      for (const [what, at] of Object.entries(given)) {
        const field = form.elements[what];
        if (field && !field.value) field.value = field.dataset.kept = at.toFixed(1);
      }
    },
  };
}
