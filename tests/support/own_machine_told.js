// What the page's script answers to a list of cases, in the shape of support/own_machines.py.
(cases) => cases.map(({ given, change }) => {
  const detail = { given, change };
  document.dispatchEvent(new CustomEvent("stripewright:own", { detail }));
  if (detail.refused) return { refused: detail.refused };
  const { worked, tools } = detail;
  const figures = tools.figuresOf(given.figures);
  const text = (parts) => parts.map((part) => (Array.isArray(part) ? figures.cm(part[1]) : part)).join("");
  return {
    pieces: worked.pieces.map((piece) => ({
      key: piece.key, stitches: piece.stitches, visible: piece.visible, worked: piece.worked,
      plan: piece.plan.map(({ yarn, first, last }) => [given.yarns[yarn].letter, first, last]),
      fold: piece.fold, openings: piece.openings.map(({ first, last }) => [first, last]),
      joins: piece.joins, width: figures.cm(piece.width), length: figures.cm(piece.lengthCm),
    })),
    sizes: worked.finished.map((size) => `${size.title}: ${text(tools.sizeParts(size))} (${size.note})`),
    yarns: worked.yarns.map(({ length, mass, best }) => ({
      length: figures.m(length), mass: mass === null ? null : figures.g(mass),
      balls: best ? best.balls : null, left: best ? figures.g(best.left) : null,
      cost: best && best.cost !== null ? tools.rounded(best.cost, 2) : null,
    })),
    cost: tools.costOf(given, worked.yarns, figures),
    filling: worked.filling === null ? null : figures.g(worked.filling),
    waste: figures.m(worked.waste), time: tools.span(worked.time),
    tails: Object.fromEntries([...worked.tails].sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, cm]) => [key, figures.cut(cm)])),
  };
});
