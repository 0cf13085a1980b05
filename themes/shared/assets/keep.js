// What the reader's choices and counts are kept in: this device's storage, under names of this site
// alone. Where storage is refused or full, the page itself keeps them while it is open.
// Other scripts use document.kept (this device) and document.kept.visit (this tab, over reloads):
// get(name) gives what was kept, or undefined; set(name, value) says whether it will last, and
// forgets the name where the value is undefined; watch(name, act) tells of other windows' changes,
// to a name or to what a function names then.
(() => {
  "use strict";

  const { src } = document.currentScript; // none in a pack's page, which is a site by itself
  const home = new URL(src ? ".." : "#", src || location.href).pathname;

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

  // The program's words in the page's language: those that differ from the ones written in scripts
  // stand in the page, a text each, or one for each plural form (in the order of the categories
  // that the language has). `{name}` is filled in.
  const said = document.getElementById("messages");
  const messages = new Map(Object.entries(said ? JSON.parse(said.textContent) : {}));
  const filled = (text, fields) => text.replace(/\{(\w+)\}/g, (all, name) => (name in fields ? fields[name] : all));
  const form = (number) => {
    const rules = new Intl.PluralRules(document.documentElement.lang || "en");
    return rules.resolvedOptions().pluralCategories.indexOf(rules.select(number));
  };
  document.words = Object.freeze({
    tr: (message, fields = {}) => filled(messages.get(message) || message, fields),
    trn: (number, one, many, fields = {}) => {
      const forms = messages.get(one);
      const text = forms ? forms[form(number)] : number === 1 ? one : many;
      return filled(text, { number, ...fields });
    },
  });

  document.kept = Object.freeze({
    ...keeper(() => localStorage),
    visit: Object.freeze(keeper(() => sessionStorage)),
    watch,
  });
})();
