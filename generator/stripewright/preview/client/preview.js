// Keeps an open page in step with the studio. What changed in the page as it was served is changed
// in the page as it stands: what the reader typed or opened, and what the theme's scripts made of
// the page, stays, and so does the place on the page.
(() => {
  "use strict";

  // Both trees are walked together: `as` is the page as served, `live` the page as it stands. This
  // script is the first of the deferred ones, so now they are still alike.
  const as = document.documentElement.cloneNode(true);
  const standing = new WeakMap();
  const pair = (served, live) => {
    standing.set(served, live);
    let [a, b] = [served.firstChild, live.firstChild];
    for (; a && b; a = a.nextSibling, b = b.nextSibling) pair(a, b);
  };
  pair(as, document.documentElement);

  const alike = (a, b) => a.nodeType === b.nodeType && a.nodeName === b.nodeName &&
    (a.nodeType !== Node.ELEMENT_NODE || (a.id === b.id && a.getAttribute("data-key") === b.getAttribute("data-key")));

  const put = (fresh, parent, before) => {
    const served = document.importNode(fresh, true);
    const live = document.importNode(fresh, true);
    parent.insertBefore(served, before);
    pair(served, live);
    return [served, live];
  };

  const attributes = (served, fresh, live) => {
    for (const { name, value } of fresh.attributes) {
      if (served.getAttribute(name) !== value) {
        served.setAttribute(name, value);
        live.setAttribute(name, value);
      }
    }
    for (const { name } of [...served.attributes]) {
      if (!fresh.hasAttribute(name)) {
        served.removeAttribute(name);
        live.removeAttribute(name);
      }
    }
  };

  const change = (served, fresh) => {
    if (served.isEqualNode(fresh)) return;
    const live = standing.get(served);
    if (served.nodeType !== Node.ELEMENT_NODE) {
      served.nodeValue = fresh.nodeValue;
      live.nodeValue = fresh.nodeValue;
      return;
    }
    attributes(served, fresh, live);
    children(served, fresh, live);
  };

  // Equal beginnings and ends are left alone; between them, nodes of one kind are changed in
  // place, and the rest goes or comes.
  const children = (served, fresh, live) => {
    const old = [...served.childNodes];
    const now = [...fresh.childNodes];
    let start = 0;
    while (start < old.length && start < now.length && old[start].isEqualNode(now[start])) start += 1;
    let [oldEnd, nowEnd] = [old.length, now.length];
    while (oldEnd > start && nowEnd > start && old[oldEnd - 1].isEqualNode(now[nowEnd - 1])) {
      oldEnd -= 1;
      nowEnd -= 1;
    }
    let at = start;
    for (let n = start; n < nowEnd; n += 1) {
      let match = at;
      while (match < oldEnd && !alike(old[match], now[n])) match += 1;
      // A kind met again further on in what is to come is worth waiting for only if it is near.
      if (match < oldEnd && match - at <= 4) {
        for (; at < match; at += 1) remove(old[at]);
        change(old[at], now[n]);
        at += 1;
      } else {
        const next = old[at] && at < oldEnd ? old[at] : old[oldEnd] || null;
        const [, made] = put(now[n], served, next);
        const place = next && standing.get(next);
        live.insertBefore(made, place && place.parentNode === live ? place : null);
      }
    }
    for (; at < oldEnd; at += 1) remove(old[at]);
  };

  const remove = (served) => {
    standing.get(served)?.remove();
    served.remove();
  };

  // ---- styles and scripts -----------------------------------------------------------------------
  let assets = null;

  const swap = (link, stamp) => {
    const next = link.cloneNode();
    const address = new URL(link.href);
    address.searchParams.set("v", stamp);
    next.href = address;
    next.addEventListener("load", () => link.remove(), { once: true });
    for (const served of as.querySelectorAll("link")) {
      if (standing.get(served) === link) standing.set(served, next);
    }
    link.after(next); // the old sheet holds until the new one is there: no flash
  };

  const refreshAssets = async () => {
    const now = await (await fetch("/-/assets", { cache: "no-store" })).json();
    const before = assets;
    assets = now;
    if (!before) return true;
    const changed = Object.keys(now).filter((path) => before[path] !== now[path]);
    const scripts = [...document.scripts].map(({ src }) => new URL(src || ".", location.href).pathname);
    if (changed.some((path) => scripts.includes(`/${path}`))) return false;
    for (const link of document.querySelectorAll('link[rel="stylesheet"]')) {
      const path = new URL(link.href).pathname.slice(1);
      if (changed.includes(path)) swap(link, now[path]);
    }
    return true;
  };

  // ---- refresh ------------------------------------------------------------------------------
  const PLACE = "sw-place";
  let tag = null;
  let busy = false;
  let again = false;

  const reload = () => {
    sessionStorage.setItem(PLACE, JSON.stringify([location.pathname, scrollX, scrollY]));
    location.reload();
  };

  const scriptsOf = (root) => [...root.querySelectorAll("script[src]")].map((s) => s.getAttribute("src")).join();

  const refreshPage = async () => {
    const answer = await fetch(location.href, { cache: "no-store", headers: tag ? { "If-None-Match": tag } : {} });
    if (answer.status === 304) return;
    tag = answer.headers.get("ETag");
    if (!(answer.headers.get("Content-Type") || "").startsWith("text/html")) return;
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").documentElement;
    if (fresh.isEqualNode(as)) return;
    if (scriptsOf(fresh) !== scriptsOf(as)) {
      reload();
      return;
    }
    change(as, fresh);
    document.dispatchEvent(new CustomEvent("stripewright:changed"));
  };

  const refresh = async () => {
    if (busy) {
      again = true;
      return;
    }
    busy = true;
    try {
      do {
        again = false;
        await refreshPage();
        if (!(await refreshAssets())) reload();
      } while (again);
    } catch {
      // The preview was ended or is being started again; the stream's next opening refreshes.
    } finally {
      busy = false;
    }
  };

  let stream = null;
  const listen = () => {
    if (stream || document.hidden) return;
    stream = new EventSource(`/-/events?page=${encodeURIComponent(location.pathname)}`);
    stream.addEventListener("message", refresh);
  };
  const leave = () => {
    stream?.close();
    stream = null;
  };
  // Browsers allow six connections a host: pages that nobody looks at give theirs back.
  document.addEventListener("visibilitychange", () => (document.hidden ? leave() : listen()));
  window.addEventListener("pagehide", leave);
  window.addEventListener("pageshow", listen);
  listen();

  const kept = JSON.parse(sessionStorage.getItem(PLACE) || "null");
  sessionStorage.removeItem(PLACE);
  if (kept && kept[0] === location.pathname) scrollTo(kept[1], kept[2]);
})();
