// Keeps each opened page for use without a connection, through the service worker sw.js at the
// site's root. Opened from disk there is no server to lose; that is told where it matters.
(() => {
  "use strict";

  const { tr } = document.words;

  const { src } = document.currentScript;
  const tell = (text) => {
    const note = document.querySelector('[data-tool="keep-count"] .tool-note');
    if (note) note.textContent = text;
  };

  if (!src) { // a pack's page: all of it is one file
    document.addEventListener("DOMContentLoaded", () =>
      tell("Your place is kept on this device. This page needs no connection."));
    return;
  }
  const home = new URL("..", src);
  if (location.protocol === "file:") {
    document.addEventListener("DOMContentLoaded", () =>
      tell(tr("Your place is kept on this device. The page itself stays at hand without a connection only where the site is hosted.")));
    return;
  }
  // The preview shows what is on the maker's own disk and changes as it does: nothing of it is kept.
  const preview = document.querySelector('script[src$="/-/preview.js"]');
  if (preview || !("serviceWorker" in navigator)) return;

  // On the first visit the page came before the worker: what it is made of is named to the worker.
  const parts = () => [location.href.split("#")[0],
    ...performance.getEntriesByType("resource").map(({ name }) => name)]
    .filter((address) => address.startsWith(home.href));

  const start = async () => {
    await navigator.serviceWorker.register(new URL("sw.js", home));
    const { active } = await navigator.serviceWorker.ready;
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => data === true &&
      tell(tr("Your place and this page are kept on this device, with or without a connection."));
    active.postMessage([...new Set(parts())], [port2]);
  };

  window.addEventListener("load", () => start().catch(() => {
    // No secure connection, or storage refused: the page works as before while there is a connection.
  }));
})();
