/* The drawing that is chosen goes with its form as text; forms.js sends it. */

async function onChosen(event) {
  const field = event.target.closest("[data-file]");
  if (!field) return;
  const form = field.closest("form");
  const file = field.files[0];
  form.querySelector("[data-name]").value = file ? file.name : "";
  form.querySelector("[data-text]").value = file ? await file.text() : "";
}

document.addEventListener("change", onChosen);
