/* Reads a value back by the voice of the device, where it has one. Off until switched on;
   a browser speaks only with voices that are on the device. */

const SWITCH = "sleevewright-voice"; /* "on" in localStorage */

export function canSpeak() {
  return "speechSynthesis" in window && localVoice() !== null;
}

function localVoice() {
  const voices = window.speechSynthesis.getVoices().filter((one) => one.localService);
  return voices.find((one) => one.lang.startsWith("en")) ?? null;
}

export function isOn() {
  try {
    return window.localStorage.getItem(SWITCH) === "on";
  } catch {
    return false;
  }
}

export function setVoice(on) {
  window.localStorage.setItem(SWITCH, on ? "on" : "off");
}

/* The newest value is said; what was being said of an older one is cut off. */
export function say(words, isAlways = false) {
  if (!words || !(isAlways || isOn()) || !canSpeak()) return false;
  const told = new SpeechSynthesisUtterance(words);
  told.voice = localVoice();
  told.lang = told.voice.lang;
  window.speechSynthesis.cancel();
  window.speechSynthesis.speak(told);
  return true;
}
