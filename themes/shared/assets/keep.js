// What the reader's choices and counts are kept in: this device's storage, under names of this site
// alone. Where storage is refused or full, the page itself keeps them while it is open.
// Other scripts use document.kept (this device) and document.kept.visit (this tab, over reloads):
// get(name) gives what was kept, or undefined; set(name, value) says whether it will last, and
// forgets the name where the value is undefined; watch(name, act) tells of other windows' changes,
// to a name or to what a function names then.
(() => {
  "use strict";

  const { src } = document.currentScript; // none in a pack's page, which is a site by itself
  const home = new URL(src ? ".." : "", src || location.href).pathname;

  const keeper = (storage) => {
    const held = new Map();
    const parsed = (text) => {
      try {
        return JSON.parse(text);
      } catch {
        return text; // kept as plain text, by an earlier version
      }
    };
    const get = (name) => {
      try {
        const text = storage().getItem(`${home}#${name}`);
        return text === null ? held.get(name) : parsed(text);
      } catch {
        return held.get(name);
      }
    };
    const set = (name, value) => {
      try {
        if (value === undefined) storage().removeItem(`${home}#${name}`);
        else storage().setItem(`${home}#${name}`, JSON.stringify(value));
        held.delete(name);
        return true;
      } catch {
        held.set(name, value);
        return false;
      }
    };
    return { get, set };
  };

  const watch = (name, act) => window.addEventListener("storage", (event) => {
    if (event.key === `${home}#${typeof name === "function" ? name() : name}`) act();
  });

  document.kept = Object.freeze({
    ...keeper(() => localStorage),
    visit: Object.freeze(keeper(() => sessionStorage)),
    watch,
  });
})();
