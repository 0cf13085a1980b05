// The file is another than the one that was opened: nothing was overwritten. Both are shown, and
// which to keep is asked, piece by piece, for the yarns, and for all the rest.
(() => {
  "use strict";
  const { Easel } = window;
  const { tr } = document.words;
  const { S, $, same, written } = Easel;

  const element = (name, text = "", className = "") => Object.assign(document.createElement(name), { textContent: text, className });

  const strip = (front, key, made) => {
    const box = element("span", "", "strip");
    box.setAttribute("aria-hidden", "true");
    const piece = front.pieces?.[key];
    const parts = piece?.stripes ? Easel.stripesOf(piece, null, made) : [];
    for (const part of parts) {
      const node = element("span");
      node.style.flexGrow = part.rows;
      node.style.background = front.yarns?.[part.yarn]?.colour || "#888888";
      box.append(node);
    }
    return box;
  };

  const said = (value) => {
    if (value === undefined) return tr("not there");
    const text = typeof value === "string" ? value : JSON.stringify(value);
    return text.length > 160 ? `${text.slice(0, 157)}…` : text;
  };

  // One choice: what differs, as it is here and as it is in the file.
  const choice = (title, mine, theirs, draw) => {
    const box = element("fieldset");
    box.append(element("legend", title));
    const name = `keep-${title}`;
    [["mine", tr("What you coloured"), mine], ["theirs", tr("What is in the file"), theirs]].forEach(([value, words, of], n) => {
      const label = element("label");
      const radio = Object.assign(document.createElement("input"), { type: "radio", name, value, checked: !n });
      label.append(radio, element("b", words), draw(of), element("span", said(of), "said"));
      box.append(label);
    });
    return { box, mine: () => box.querySelector("input:checked").value === "mine" };
  };

  const rest = (front) => {
    const { pieces, yarns, ...others } = front;
    return others;
  };

  const merged = (mine, theirs, picks) => {
    const front = picks.rest && !picks.rest.mine() ? { ...rest(theirs) } : { ...rest(mine) };
    const yarns = picks.yarns && !picks.yarns.mine() ? [mine.yarns, theirs.yarns] : [theirs.yarns, mine.yarns];
    const pieces = {};
    for (const key of new Set([...Object.keys(theirs.pieces || {}), ...Object.keys(mine.pieces || {})])) {
      const from = picks.pieces[key] && !picks.pieces[key].mine() ? theirs : mine;
      if (from.pieces?.[key]) pieces[key] = from.pieces[key];
    }
    return { ...front, yarns: { ...yarns[0], ...yarns[1] }, pieces };
  };

  const aside = async () => {
    const answer = await Easel.question(tr("The file is gone"), tr("It was renamed or removed since you opened it. What you coloured can be saved as a new file."),
      [["new", tr("Save as a new file")], ["no", tr("Not now")]]);
    if (answer !== "new") return;
    Easel.kept.forget(S.file);
    Object.assign(S, { file: null, digest: "" });
    S.saving = false;
    await Easel.save();
  };

  const both = async (disk) => {
    if (disk.gone) return aside();
    if (disk.why && !disk.front?.pieces) return Easel.notice(`${tr("The file was changed elsewhere and can’t be read now.")} ${disk.why}`);
    const [mine, theirs] = [written(S.front), written(disk.front)];
    const picks = { pieces: {} };
    const plain = () => element("span");
    for (const key of new Set([...Object.keys(mine.pieces), ...Object.keys(theirs.pieces || {})])) {
      if (same(mine.pieces[key], theirs.pieces?.[key])) continue;
      const title = S.answer?.pieces?.[key]?.title || key;
      picks.pieces[key] = choice(title, mine.pieces[key], theirs.pieces?.[key],
        (of) => strip(of === mine.pieces[key] ? mine : theirs, key, S.made));
    }
    if (!same(mine.yarns, theirs.yarns)) picks.yarns = choice(tr("Yarns"), mine.yarns, theirs.yarns, plain);
    if (!same(rest(mine), rest(theirs))) picks.rest = choice(tr("Title, price and all the rest"), rest(mine), rest(theirs), plain);
    const all = [...Object.values(picks.pieces), picks.yarns, picks.rest].filter(Boolean);
    if (!all.length) { // the same was saved by both
      Object.assign(S, { digest: disk.digest, base: theirs });
      return Easel.notice("");
    }
    const dialog = $("both");
    $("both-choices").replaceChildren(...all.map(({ box }) => box));
    dialog.returnValue = "";
    dialog.showModal();
    await new Promise((resolve) => dialog.addEventListener("close", resolve, { once: true }));
    if (dialog.returnValue !== "keep") return Easel.notice(tr("Nothing is saved, and nothing is lost: the file was changed elsewhere."));
    const spare = Object.fromEntries(Object.entries(S.front.yarns).filter(([key]) => !mine.yarns[key]));
    const front = merged(mine, theirs, picks);
    Object.assign(S, { digest: disk.digest, base: theirs, saving: false });
    Easel.commit({ ...front, yarns: { ...front.yarns, ...spare } }, tr("Put together."));
    await Easel.save();
  };

  Easel.both = both;
})();
