// What the row counter tells beside its shapes: a sound, off at first; a vibration, where the phone
// has one; and a screen that stays awake while the counter is open, where the browser can.
(() => {
  "use strict";

  const { tr } = document.words;

  const dialog = document.querySelector("dialog.count");
  if (!dialog) return;

  const NOTES = { soon: [660], change: [520, 660, 880], done: [880, 660, 520, 660, 880] }; // Hz
  const PULSES = { soon: [60], change: [120, 80, 120], done: [200, 80, 200, 80, 200] }; // ms

  let audio;
  const chime = (state) => {
    audio = audio || new AudioContext();
    audio.resume();
    NOTES[state].forEach((pitch, at) => {
      const tone = audio.createOscillator();
      const gain = audio.createGain();
      const start = audio.currentTime + at * 0.16;
      tone.frequency.value = pitch;
      gain.gain.setValueAtTime(0.25, start);
      gain.gain.exponentialRampToValueAtTime(0.001, start + 0.14);
      tone.connect(gain).connect(audio.destination);
      tone.start(start);
      tone.stop(start + 0.15);
    });
  };
  const buzz = (state) => navigator.vibrate(PULSES[state]);

  const toggle = (name, text, act) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = text;
    const set = (on) => button.setAttribute("aria-pressed", String(on));
    const on = () => button.getAttribute("aria-pressed") === "true";
    set(document.kept.get(`signals/${name}`) === "on");
    button.addEventListener("click", () => {
      set(!on());
      document.kept.set(`signals/${name}`, on() ? "on" : "off");
      if (on()) act("soon"); // so that it is known
    });
    dialog.addEventListener("stripewright:count", ({ detail: { state } }) => {
      if (on() && NOTES[state]) act(state);
    });
    dialog.querySelector(".count-bar").append(button);
  };

  if (window.AudioContext) toggle("sound", tr("Sound"), chime);
  if (navigator.vibrate) toggle("vibration", tr("Buzz"), buzz);

  // The browser takes the lock away whenever the page is hidden; it is asked for again after that.
  let lock = null;
  const stayAwake = async () => {
    if (!dialog.open || document.hidden || !navigator.wakeLock || (lock && !lock.released)) return;
    try {
      lock = await navigator.wakeLock.request("screen");
    } catch {
      lock = null; // refused, on a low battery say: the count is kept all the same
    }
  };
  document.addEventListener("visibilitychange", stayAwake);
  dialog.addEventListener("stripewright:count", ({ detail: { state } }) => {
    if (state === "open") stayAwake();
    if (state === "closed" && lock) lock.release();
  });
  stayAwake();
})();
