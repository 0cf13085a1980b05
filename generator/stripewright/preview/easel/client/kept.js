// What is not saved yet is kept in the browser, under the file, its fingerprint and this tab, and
// offered when the page is opened again. A tab that is open holds a lock, so nobody else takes its.
(() => {
  "use strict";
  const { Easel } = window;
  const HEAD = "stripewright-easel ";
  const TAB = "stripewright-easel-tab";

  const tab = () => {
    let name = sessionStorage.getItem(TAB);
    if (!name) sessionStorage.setItem(TAB, (name = Math.random().toString(36).slice(2)));
    return name;
  };

  // A copied tab has the session of the one it was copied from, and takes a name of its own.
  const settle = async () => {
    if (!navigator.locks) return;
    const held = await navigator.locks.query();
    if (held.held.some(({ name }) => name === HEAD + tab())) sessionStorage.removeItem(TAB);
    navigator.locks.request(HEAD + tab(), () => new Promise(() => {}));
  };

  const keyOf = (file) => `${HEAD}${file || "new"} ${tab()}`;

  const keep = (file, digest, front) => {
    try {
      localStorage.setItem(keyOf(file), JSON.stringify({ file, digest, front, when: Date.now() }));
      return true;
    } catch {
      return false; // full, or not allowed: the page says so
    }
  };

  const forget = (file) => localStorage.removeItem(keyOf(file));

  // What was kept of a file by tabs that are not open any more, the newest first.
  const found = async (file) => {
    const open = navigator.locks ? (await navigator.locks.query()).held.map(({ name }) => name) : [];
    const kept = [];
    for (let n = 0; n < localStorage.length; n += 1) {
      const key = localStorage.key(n);
      const owner = key.slice(key.lastIndexOf(" ") + 1);
      if (!key.startsWith(`${HEAD}${file || "new"} `)) continue;
      if (owner !== tab() && open.includes(HEAD + owner)) continue;
      try {
        kept.push({ key, ...JSON.parse(localStorage.getItem(key)) });
      } catch {
        localStorage.removeItem(key);
      }
    }
    return kept.sort((a, b) => b.when - a.when);
  };

  Easel.kept = { settle, keep, forget, found, drop: (key) => localStorage.removeItem(key) };
})();
