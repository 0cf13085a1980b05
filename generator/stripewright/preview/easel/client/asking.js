// The page's requests. Numbers are asked for one request at a time: what is coloured while one is
// on its way is asked for next, and only the last of it.
(() => {
  "use strict";
  const { Easel } = window;
  const { tr } = document.words;
  const token = document.querySelector('meta[name="easel-token"]').content;

  const send = async (address, value) => {
    const bytes = value instanceof Blob;
    const answer = await fetch(`/-/easel/${address}`, {
      method: "POST",
      headers: { "content-type": bytes ? "application/octet-stream" : "application/json", "x-easel-token": token },
      body: bytes ? value.slice(0, value.size, "") : JSON.stringify(value),
    });
    const text = await answer.text();
    let told = { why: text };
    try {
      told = JSON.parse(text);
    } catch {
      // turned away before it was looked at: then it is plain words
    }
    return { status: answer.status, told };
  };

  let busy = false;
  let next = null;
  const ask = async (value, take) => {
    next = { value, take };
    if (busy) return;
    busy = true;
    try {
      while (next) {
        const now = next;
        next = null;
        const { status, told } = await send("work", now.value);
        if (!next) now.take(status, told);
      }
    } catch {
      next = null;
      Easel.notice(tr("The preview doesn’t answer: is it still running? What you colour is kept in this browser."));
    } finally {
      busy = false;
    }
  };

  Easel.send = send;
  Easel.ask = ask;
})();
