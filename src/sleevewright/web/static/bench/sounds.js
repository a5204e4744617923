/* Two sounds for hands that hold a gauge: a short high one for taken, a long low one for
   held. They are made here; nothing is loaded. */

const SWITCH = "sleevewright-sounds"; /* "off" in localStorage silences this device */
let context = null;

export const heard = []; /* names of the last sounds, for who cannot hear and for tests */

function ready() {
  context ??= new AudioContext();
  /* A browser starts sound only after the person touched the page or a key. */
  if (context.state === "suspended") context.resume().catch(() => undefined);
  return context;
}

function tone(frequency, seconds, shape) {
  const audio = ready();
  const start = audio.currentTime;
  const source = new OscillatorNode(audio, { frequency, type: shape });
  const volume = new GainNode(audio, { gain: 0.0 });
  volume.gain.linearRampToValueAtTime(0.25, start + 0.005);
  volume.gain.setValueAtTime(0.25, start + seconds - 0.02);
  volume.gain.linearRampToValueAtTime(0.0, start + seconds);
  source.connect(volume).connect(audio.destination);
  source.start(start);
  source.stop(start + seconds);
}

function sound(name, ...form) {
  heard.push(name);
  if (heard.length > 100) heard.shift();
  if (isOff()) return;
  try {
    tone(...form);
  } catch {
    /* a device without sound: the words beside the field say the same */
  }
}

export function beep() {
  sound("beep", 1320, 0.09, "sine");
}

export function buzz() {
  sound("buzz", 140, 0.45, "sawtooth");
}

export function isOff() {
  try {
    return window.localStorage.getItem(SWITCH) === "off";
  } catch {
    return false;
  }
}

export function setSounds(isOn) {
  window.localStorage.setItem(SWITCH, isOn ? "on" : "off");
}
