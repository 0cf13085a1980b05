// The yarns: the one in the hand, and what can be done with each.
(() => {
  "use strict";
  const { Easel } = window;
  const { tr, trn } = document.words;
  const { S, $, gestures, act, put, used } = Easel;
  const { button, field, choice, group, words, fill } = Easel.make;

  const chip = (key) => {
    const node = Object.assign(document.createElement("span"), { className: "chip" });
    node.style.background = Easel.colour(key);
    node.setAttribute("aria-hidden", "true");
    return node;
  };

  const strip = () => {
    const letters = Easel.letters();
    const keys = Object.keys(S.front.yarns || {});
    fill($("hand"), JSON.stringify([keys.map((key) => [key, letters[key], Easel.yarnName(key), Easel.colour(key), Easel.rowsLeft(key)]), S.hand]), () => keys.map((key) => {
      const node = button("", () => {
        S.hand = key;
        Easel.draw();
        Easel.say(tr("{yarn} is in your hand.", { yarn: Easel.yarnName(key) }));
      });
      node.id = `hand-${key}`;
      node.setAttribute("aria-pressed", S.hand === key);
      node.setAttribute("aria-label", tr("Paint with {yarn}", { yarn: `${letters[key]} ${Easel.yarnName(key)}` }));
      node.append(chip(key), `${letters[key]} `, Object.assign(document.createElement("span"), { className: "name", textContent: Easel.yarnName(key) }));
      const rows = Easel.rowsLeft(key);
      if (rows !== null) {
        node.append(Object.assign(document.createElement("span"), { className: rows < 0 ? "left over" : "left", id: `left-${key}`, textContent: Easel.leftWord(rows) }));
        node.setAttribute("aria-describedby", `left-${key}`);
      }
      return node;
    }));
  };

  const set = (key, name, value) => act((front) => put(front, ["yarns", key, name], value), tr("Changed."));
  const text = (key, name, type = "text") => {
    const node = Object.assign(document.createElement("input"), { type, value: S.front.yarns[key][name] ?? "", id: `yarn-${key}-${name}` });
    node.addEventListener("change", () => set(key, name, node.value.trim() === "" ? undefined : name === "price" ? Easel.typed(node.value.trim()) : node.value.trim()));
    return node;
  };

  const colourBox = (key) => {
    const node = text(key, "colour", "color");
    const shown = S.front.yarns[key].colour ?? S.answer?.yarns?.[key]?.seen?.normal;
    node.value = /^#[0-9a-f]{6}$/i.test(shown) ? shown.toLowerCase() : "#888888";
    node.addEventListener("input", () => {
      S.trial = put(S.front, ["yarns", key, "colour"], node.value);
      Easel.drawPiece();
    });
    return node;
  };

  const WEIGHTS = [tr("lace"), tr("super fine"), tr("fine"), tr("light"), tr("medium"), tr("bulky"), tr("super bulky"), tr("jumbo")];
  const moveYarn = (key, way) => act((front) => {
    const keys = Object.keys(front.yarns);
    const place = keys.indexOf(key);
    const goes = Math.max(0, Math.min(keys.length - 1, place + way));
    keys.splice(place, 1);
    keys.splice(goes, 0, key);
    return { ...front, yarns: Object.fromEntries(keys.map((of) => [of, front.yarns[of]])) };
  }, tr("Moved."));

  const takeAway = (key) => act((front) => {
    if (used(front, key)) throw new gestures.Cannot(tr("Stripes are knitted in it: replace it first."));
    if (Object.keys(front.yarns).length < 2) throw new gestures.Cannot(tr("One yarn has to stay."));
    return put(front, ["yarns", key], undefined);
  }, tr("Taken away."));

  const panel = (key, place, keys) => {
    const box = document.createElement("details");
    box.dataset.yarn = key;
    box.open = open.has(key);
    box.addEventListener("toggle", () => (box.open ? open.add(key) : open.delete(key)));
    const head = document.createElement("summary");
    const spare = tr("in no stripe yet: not saved");
    head.append(chip(key), ` ${Easel.letters()[key]} ${Easel.yarnName(key)}`, used(S.front, key) ? "" : ` (${spare})`);
    const yarn = S.front.yarns[key];
    const weight = choice([["", tr("not said")], ...WEIGHTS.map((name, n) => [String(n), `${n} ${name}`])], String(yarn.weight ?? ""),
      (to) => set(key, "weight", to === "" ? undefined : Number(to)));
    const others = Object.keys(S.front.yarns).filter((of) => of !== key);
    const instead = choice(others.map((of) => [of, Easel.yarnName(of)]), others[0], () => {});
    box.append(head,
      group(field(tr("Name"), text(key, "name")), field(tr("Colour"), colourBox(key)), field(tr("Weight class"), weight, key)),
      group(field(tr("Ball, like 100 g / 120 m"), text(key, "ball")), field(tr("Price of a ball"), text(key, "price"))),
      group(button(tr("Earlier"), () => moveYarn(key, -1), { disabled: place === 0 }), button(tr("Later"), () => moveYarn(key, 1), { disabled: place === keys.length - 1 }),
        button(tr("Take away"), () => takeAway(key))),
      others.length ? group(field(tr("Replace everywhere with"), instead, key), button(tr("Replace"), () => act((front) => gestures.everywhere(front, key, instead.value), tr("Replaced.")))) : "");
    return box;
  };
  const open = new Set();

  const COLOURS = ["#b5452f", "#d9a441", "#4f7a5b", "#7a4a72", "#3c7fa0", "#8a8f94", "#d98f86", "#2b2b33"];
  const add = () => {
    const keys = Object.keys(S.front.yarns || {});
    let n = keys.length + 1;
    while (keys.includes(`yarn_${n}`)) n += 1;
    const first = S.front.yarns?.[keys[0]] || {};
    const colour = COLOURS.find((of) => !keys.some((key) => S.front.yarns[key].colour === of)) || "#777777";
    const fresh = { name: tr("Yarn {number}", { number: n }), colour, ...(first.weight === undefined ? {} : { weight: first.weight }), ...(first.ball ? { ball: first.ball } : {}) };
    open.add(`yarn_${n}`);
    act((front) => put(front, ["yarns", `yarn_${n}`], fresh), tr("A yarn is added."));
    S.hand = `yarn_${n}`;
    Easel.draw();
  };

  // Yarns in the colours of a picture, after those that are there already.
  const fromPicture = async (file) => {
    if (file.size > 25 * 1024 * 1024) return Easel.notice(tr("This picture is larger than 25 MB."));
    Easel.say(tr("The picture is being read."));
    const { status, told } = await Easel.send("palette", file);
    if (status !== 200) return Easel.notice(told.why);
    act((front) => {
      const first = Object.values(front.yarns || {})[0] || {};
      let made = front;
      for (const { key, name, colour } of told.yarns) {
        let free = key;
        for (let n = 2; made.yarns?.[free]; n += 1) free = `${key}_${n}`;
        made = put(made, ["yarns", free], { name, colour, ...(first.weight === undefined ? {} : { weight: first.weight }), ...(first.ball ? { ball: first.ball } : {}) });
      }
      return made;
    }, trn(told.yarns.length, "A yarn is added, in the picture's colour.", "{number} yarns are added, in the picture's colours."));
    Easel.draw();
  };

  const draw = () => {
    if (document.body.dataset.state !== "open") return;
    strip();
    const keys = Object.keys(S.front.yarns || {});
    const sign = JSON.stringify([S.front.yarns, keys.map((key) => [used(S.front, key), Easel.letters()[key], Easel.colour(key)])]);
    if (!S.trial) fill($("yarns"), sign, () => keys.map((key, n) => panel(key, n, keys)));
  };
  $("add-yarn").addEventListener("click", add);
  $("yarns-picture").addEventListener("change", ({ target }) => {
    if (target.files[0]) fromPicture(target.files[0]);
    target.value = "";
  });
  $("add-yarn-here").addEventListener("click", add);
  Easel.drawPiece = Easel.parts[0];
  Easel.parts.push(draw);
})();
