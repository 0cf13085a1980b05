// What is on the easel now; every gesture passes through here, can be undone, is kept and worked out.
(() => {
  "use strict";
  const { Easel } = window;
  const { tr, trn } = document.words;
  const { same, put, stripesOf, learn, used, written, gestures } = Easel;
  const $ = (id) => document.getElementById(id);
  const opened = JSON.parse($("state").textContent);

  const S = (Easel.S = {
    file: opened.file, digest: opened.digest || "", slug: opened.slug, front: opened.front || null,
    base: opened.front ? written(opened.front) : null, answer: null, made: {}, piece: "", size: "",
    from: 0, to: 0, hand: "", locked: false, sight: "normal", undo: [], redo: [], trial: null, saving: false,
    kinds: opened.kinds, gauges: opened.gauges || [], lookOnly: opened.look_only,
  });

  // ---- what is shown ----------------------------------------------------------------------------
  const front = () => S.trial || S.front;
  const told = () => (S.size ? S.answer?.sizes.find(({ key }) => key === S.size)?.pieces : S.answer?.pieces)?.[S.piece];
  const made = () => Object.assign(S.made, { answer: S.answer?.pieces?.[S.piece] });
  const shown = (of = front()) => {
    if (!of?.pieces?.[S.piece]) return [];
    if (S.size) return (told()?.parts || []).map(([yarn, rows, at, slot]) => ({ yarn, rows, at, slot }));
    return stripesOf(of.pieces[S.piece], S.answer?.pieces?.[S.piece], S.made);
  };
  const letters = () => {
    const keys = Object.keys(front().yarns || {});
    const order = [...keys.filter((key) => used(front(), key)), ...keys.filter((key) => !used(front(), key))];
    return Object.fromEntries(order.map((key, n) => [key, n < 26 ? String.fromCharCode(65 + n) : ""]));
  };
  const colour = (key) => {
    const plain = front().yarns?.[key]?.colour;
    const seen = S.answer?.yarns?.[key]?.seen;
    return (S.sight !== "normal" && seen?.normal === String(plain).toLowerCase() && seen[S.sight]) || plain || seen?.normal || "#888888";
  };
  const yarnName = (key) => String(front().yarns?.[key]?.name || S.answer?.yarns?.[key]?.name || key);
  // Rows of the piece shown that are left of a yarn; null where nothing says how much there is of it.
  const rowsLeft = (key) => told()?.left?.[key] ?? null;
  const leftWord = (rows) => (rows < 0 ? tr("{rows} too many", { rows: rowsWord(-rows) }) : tr("{rows} left", { rows: rowsWord(rows) }));
  const dirty = () => S.front && !same(written(S.front), S.base);

  // ---- words ------------------------------------------------------------------------------------
  const notice = (text) => {
    $("notice").textContent = text;
    $("notice").hidden = !text;
  };
  const say = (text) => { $("said").textContent = text; };
  const rowsWord = (rows) => trn(rows, "{number} row", "{number} rows");

  // A question with some answers; resolves to the one chosen, or to null.
  const question = (title, text, choices) => new Promise((resolve) => {
    const dialog = $("question");
    $("question-title").textContent = title;
    $("question-text").textContent = text;
    $("question-choices").replaceChildren(...choices.map(([value, words], n) => {
      const button = document.createElement("button");
      Object.assign(button, { type: "button", textContent: words, className: n ? "" : "first" });
      button.addEventListener("click", () => dialog.close(value));
      return button;
    }));
    dialog.returnValue = "";
    dialog.addEventListener("close", () => resolve(dialog.returnValue || null), { once: true });
    dialog.showModal();
  });

  // ---- gestures -----------------------------------------------------------------------------------
  const settle = () => {
    const pieces = Object.keys(S.front.pieces || {});
    if (!pieces.includes(S.piece)) S.piece = pieces[0] || "";
    const yarns = Object.keys(S.front.yarns || {});
    if (!yarns.includes(S.hand)) S.hand = yarns[0] || "";
    const most = Math.max(0, shown(S.front).length - 1);
    S.to = Math.min(S.to, most);
    S.from = Math.min(S.from, S.to);
  };

  const changed = () => {
    settle();
    if (dirty()) {
      if (!Easel.kept.keep(S.file, S.digest, S.front)) notice(tr("This browser keeps nothing: save before you close the page."));
    } else Easel.kept.forget(S.file);
    Easel.draw();
    work();
  };

  const commit = (next, words) => {
    S.trial = null;
    if (same(next, S.front)) return Easel.draw();
    S.undo.push({ front: S.front, piece: S.piece, from: S.from, to: S.to });
    S.redo = [];
    S.front = next;
    notice("");
    changed();
    if (words) say(words);
  };

  const back = (one, other) => {
    if (!S[one].length) return;
    S[other].push({ front: S.front, piece: S.piece, from: S.from, to: S.to });
    Object.assign(S, S[one].pop(), { trial: null });
    changed();
    say(one === "undo" ? tr("Undone.") : tr("Done again."));
  };

  // Do a gesture; where generated stripes stand in its way, say so first.
  const act = async (gesture, words = "") => {
    if (S.size) return notice(tr("A size follows the pattern: colour the pattern itself."));
    try {
      commit(gesture(S.front), words);
    } catch (fault) {
      S.trial = null;
      if (fault instanceof gestures.Cannot) notice(fault.message);
      else if (fault instanceof gestures.WriteOut) await offer(fault, gesture, words);
      else throw fault;
      Easel.draw();
    }
  };

  const offer = async (fault, gesture, words) => {
    const all = shown(S.front);
    const count = fault.item === null ? all.length : all.filter((part) => part.at[0] === fault.item).length;
    const out = trn(count, "To do this, it is written out into one stripe of its own rows first; what made it is gone then. Undo brings it back.",
      "To do this, it is written out into {number} stripes of its own rows first; what made it is gone then. Undo brings it back.");
    if (await question(tr("Write out?"), `${fault.message} ${out}`, [["yes", tr("Write out")], ["no", tr("Leave it")]]) !== "yes") return;
    try {
      commit(gesture(gestures.writeOut(S.front, S.piece, all, fault.item)), words);
    } catch (again) {
      if (again instanceof gestures.WriteOut) await offerOn(fault, all, gesture, words);
      else notice(again.message);
    }
  };

  // What was written out stands inside something else that was generated: ask on.
  const offerOn = async (fault, all, gesture, words) => {
    commit(gestures.writeOut(S.front, S.piece, all, fault.item), tr("Written out."));
    await act(gesture, words);
  };

  // ---- Python's part ------------------------------------------------------------------------------
  const work = () => {
    const sent = S.front;
    Easel.ask({ file: S.file, front: written(sent), sight: S.sight }, (status, said) => {
      if (status !== 200) return notice(said.why);
      const { pieces } = said;
      if (!pieces && S.answer) Object.assign(S.answer, { problems: said.problems, sound: said.sound, stale: true });
      else S.answer = said;
      for (const [key, piece] of Object.entries(pieces || {})) if (sent.pieces[key]) learn(S.made, sent.pieces[key], piece);
      settle();
      if (!S.trial) Easel.draw();
    });
  };

  // ---- saving -------------------------------------------------------------------------------------
  const save = async () => {
    if (S.saving || !S.front) return;
    const sent = written(S.front);
    S.saving = true;
    Easel.draw();
    try {
      const { status, told: said } = await Easel.send("save", { file: S.file, digest: S.digest, front: sent });
      if (status === 200) saved(said, sent);
      else if (status === 409) await Easel.both(said);
      else notice(said.why);
    } catch {
      notice(tr("It is not saved: the preview doesn’t answer. What you coloured is kept in this browser."));
    } finally {
      S.saving = false;
      Easel.draw();
    }
  };

  const saved = (said, sent) => {
    Easel.kept.forget(S.file);
    const fresh = S.file !== said.file;
    Object.assign(S, { file: said.file, digest: said.digest, slug: said.slug, base: sent });
    if (fresh) history.replaceState(null, "", `/-/easel/pattern/${encodeURIComponent(said.file.slice(17, -3))}`);
    notice("");
    say(sent.published
      ? tr("Saved in {file}. To put it on the site: stripewright publish.", said)
      : tr("Saved in {file}, as a draft. To put it on the site, say under “About the pattern” on which day it is published, save, and then: stripewright publish.", said));
    changed();
    listen();
  };

  // ---- the file, saved by somebody else -----------------------------------------------------------
  let stream = null;
  const listen = () => {
    if (stream || document.hidden || !S.file) return;
    stream = new EventSource(`/-/events?page=${encodeURIComponent(location.pathname)}`);
    stream.addEventListener("message", look);
  };
  const look = async () => {
    if (S.saving) return;
    const answer = await fetch(`/-/easel/file/${encodeURIComponent(S.file.slice(17, -3))}`, { cache: "no-store" });
    if (!answer.ok) return notice(tr("The file is gone. Saving will ask for a new one."));
    const disk = await answer.json();
    if (disk.digest === S.digest || S.saving) return;
    if (disk.why) return notice(`${tr("The file was changed elsewhere, and has a mistake now.")} ${disk.why}`);
    if (dirty()) return notice(tr("The file was changed elsewhere. When you save, you are asked which to keep."));
    take(disk);
    notice("");
    say(tr("The file was changed elsewhere; this is how it is now."));
  };
  const take = (disk) => {
    S.undo.push({ front: S.front, piece: S.piece, from: S.from, to: S.to });
    Object.assign(S, { front: disk.front, base: written(disk.front), digest: disk.digest });
    changed();
  };
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) return listen();
    stream?.close();
    stream = null;
  });
  addEventListener("beforeunload", (event) => { if (dirty() && S.saving) event.preventDefault(); });

  // ---- keys for the whole page ------------------------------------------------------------------------
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || document.querySelector("dialog[open]")) return;
    const key = event.key.toLowerCase();
    const typing = event.target.matches?.("input, textarea");
    if (key === "s") save();
    else if (key === "z" && !event.shiftKey && !typing) back("undo", "redo");
    else if ((key === "y" || (key === "z" && event.shiftKey)) && !typing) back("redo", "undo");
    else return;
    event.preventDefault();
  });

  // ---- opening ------------------------------------------------------------------------------------
  const ago = (when) => new Date(when).toLocaleString(document.documentElement.lang, { dateStyle: "medium", timeStyle: "short" });

  const offerKept = async () => {
    for (const one of await Easel.kept.found(S.file)) {
      const plain = S.base && same(written(one.front), S.base);
      if (plain) {
        Easel.kept.drop(one.key);
        continue;
      }
      const moved = S.file && one.digest !== S.digest ? tr("The file was saved otherwise since; when you save, you are asked which to keep.") : "";
      const chosen = await question(tr("Colouring that was not saved"), [tr("It was kept in this browser on {time}.", { time: ago(one.when) }), moved].join(" ").trim(),
        [["on", tr("Go on with it")], ["away", tr("Throw it away")], ["later", tr("Not now")]]);
      if (chosen === "away") Easel.kept.drop(one.key);
      if (chosen !== "on") continue;
      Easel.kept.drop(one.key);
      if (S.front) S.undo.push({ front: S.front, piece: S.piece, from: 0, to: 0 });
      Object.assign(S, { front: one.front, digest: one.digest || S.digest });
      if (moved) S.base = {};
      return true;
    }
    return false;
  };

  const open = async () => {
    for (const [id, of] of [["undo", ["undo", "redo"]], ["redo", ["redo", "undo"]]]) $(id).addEventListener("click", () => back(...of));
    $("save").addEventListener("click", save);
    await Easel.kept.settle();
    if (opened.why) {
      notice(`${tr("This file can’t be coloured yet.")} ${opened.why}`);
      document.body.dataset.state = "stopped";
      return;
    }
    if ((await offerKept()) || S.front) begin();
    else Easel.begin();
  };

  const begin = () => {
    document.body.dataset.state = "open";
    changed();
    listen();
  };

  Object.assign(Easel, { $, front, told, made, shown, letters, colour, yarnName, rowsLeft, leftWord, dirty, notice, say, rowsWord, question,
    commit, act, back, work, save, saved, start: begin, put });
  Easel.draw = () => {
    for (const part of Easel.parts) part();
  };
  Easel.parts ||= [];
  document.addEventListener("DOMContentLoaded", open);
})();
