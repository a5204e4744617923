/* A new gauge: its kind brings what such a gauge is usually worth, until it is keyed over. */

const form = document.querySelector("form[data-new]");
const note = form.querySelector("[data-kind-note]");
const keyedOver = new Set();

form.addEventListener("input", (event) => keyedOver.add(event.target.name));
form.elements.kind.addEventListener("change", () => {
  const usual = form.elements.kind.selectedOptions[0].dataset;
  for (const name of ["setting", "resolution"]) {
    if (!keyedOver.has(name)) form.elements[name].value = usual[name];
  }
  note.textContent = usual.note;
});
