/* What this device could not keep, as on a full storage: said beside the press or form that
   told it, with the sound for held, until the next try is kept. */

import { buzz } from "./sounds.js";

export async function keepOrSay(place, keep, again) {
  try {
    const kept = await keep();
    messageOf(place)?.remove();
    return kept;
  } catch (trouble) {
    buzz();
    const message = messageOf(place) ?? made(place);
    message.textContent = `This device could not keep it: ${trouble.message}. Nothing was told; ${again}`;
    return null;
  }
}

function messageOf(place) {
  const next = place.nextElementSibling;
  return next?.matches("[data-unkept]") ? next : null;
}

function made(place) {
  const message = document.createElement("p");
  message.className = "message";
  message.dataset.unkept = "";
  message.setAttribute("role", "alert");
  place.after(message);
  return message;
}
