// Beside the piece: the made-up picture, the numbers as the published page tells them, what is wrong.
(() => {
  "use strict";
  const { Easel } = window;
  const { tr } = document.words;
  const { S, $, put, act } = Easel;
  const { button } = Easel.make;

  const SIGHTS = { normal: tr("most people"), protan: tr("eyes that see little red"), deutan: tr("eyes that see little green"),
    tritan: tr("eyes that see little blue"), grey: tr("black and white") };

  const element = (name, text = "", className = "") => Object.assign(document.createElement(name), { textContent: text, className });
  const list = (pairs) => {
    const box = element("dl");
    for (const [term, said] of pairs) if (said) {
      const row = element("div");
      row.append(element("dt", term), element("dd", said));
      box.append(row);
    }
    return box;
  };

  const picture = () => {
    const svg = S.answer?.finished;
    if (!svg || $("finished").dataset.of === svg) return;
    $("finished").dataset.of = svg;
    const drawn = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
    $("finished").replaceChildren(document.importNode(drawn, true));
  };

  // Of each yarn: rows of this piece that it would still knit.
  const left = () => {
    const letters = Easel.letters();
    const rows = Object.keys(S.front.yarns || {}).filter((key) => Easel.rowsLeft(key) !== null)
      .map((key) => [`${letters[key]} ${Easel.yarnName(key)}`, Easel.leftWord(Easel.rowsLeft(key))]);
    if (!rows.length) return [];
    const box = list(rows);
    box.id = "rows-left";
    return [element("h3", tr("Rows left, of this piece")), box];
  };

  const told = () => {
    const size = S.size && S.answer.sizes.find(({ key }) => key === S.size);
    const said = size ? size.told : S.answer.told;
    if (!said) return [];
    return [
      list(said.sizes), list(said.rows),
      list(said.yarns.map(([letter, name, text]) => [`${letter} ${name}`, text])),
      ...left(),
      list([[tr("Yarn in all"), said.cost], [tr("Time"), said.time], ...said.supplies]),
    ];
  };

  const clashes = () => [
    ...(S.answer.told?.clashes || []).map((text) => element("li", text)),
    ...(S.answer.proposals || []).map(([yarn, colour]) => {
      const box = element("li");
      box.append(button(tr("Take {colour} for {yarn}", { colour, yarn: Easel.yarnName(yarn) }), () => act((front) => put(front, ["yarns", yarn, "colour"], colour), tr("Recoloured."))));
      return box;
    }),
  ];

  const NAMED = { title: tr("Title"), summary: tr("One sentence about it"), price: tr("Price"), shop: tr("Shop"), published: tr("Published on"), access: tr("Who may read all of it") };
  const place = ({ path, line }) => {
    if (line) return tr("Line {line} of the text", { line });
    if (!path?.length) return "";
    if (NAMED[path[0]]) return NAMED[path[0]];
    if (path[0] === "yarns" && path[1]) return Easel.yarnName(path[1]);
    if (path[0] === "pieces" && path[1]) return S.answer.pieces?.[path[1]]?.title || path[1];
    return path[0];
  };

  const problems = () => {
    const clashing = (S.answer.told?.clashes || []).length;
    const found = S.answer.problems.filter(({ path, severity }) => !(clashing && severity === "warning" && path?.[0] === "yarns" && path[2] === "colour"));
    return found.map((one) => {
      const box = element("li");
      box.dataset.severity = one.severity;
      const where = place(one);
      box.append(element("b", one.severity === "error" ? tr("Wrong") : tr("Look at")), ` ${where ? `${where}: ` : ""}${one.message}.`);
      if (one.hint) box.append(element("i", one.hint));
      return box;
    });
  };

  const draw = () => {
    if (document.body.dataset.state !== "open" || !S.answer) return;
    picture();
    const stale = S.answer.stale ? [element("p", tr("These are the last numbers that could be worked out."), "hint")] : [];
    $("told").replaceChildren(...stale, ...told());
    $("told").classList.toggle("stale", Boolean(S.answer.stale));
    const wrong = problems();
    $("wrong").replaceChildren(...(wrong.length ? wrong : [element("li", tr("Nothing is wrong."), "none")]));
    const alike = clashes();
    $("alike").replaceChildren(...(alike.length ? alike : [element("li", tr("Neighbouring stripes can be told apart by everyone."), "none")]));
    const piece = Easel.told();
    const first = S.answer.told;
    $("tally").textContent = piece ? [Easel.rowsWord(piece.worked), piece.length, first?.cost, first?.time].filter(Boolean).join(" · ") : "";
    const errors = S.answer.problems.filter(({ severity }) => severity === "error").length;
    $("tally").dataset.errors = errors || "";
    if (errors) $("tally").textContent = [tr("{number} wrong", { number: errors }), $("tally").textContent].join(" · ");
  };

  for (const [sight, name] of Object.entries(SIGHTS)) $("sight").append(new Option(name, sight));
  $("sight").addEventListener("change", () => {
    S.sight = $("sight").value;
    Easel.draw();
    Easel.work();
  });
  Easel.parts.push(draw);
})();
