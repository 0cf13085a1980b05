// What the page's script answers to a list of cases, in the shape of support/own_machines.py.
(cases) => cases.map(({ given: whole, size, change }) => {
  const given = { ...whole, ...((whole.sizes || {})[size] || {}) }; // as the page has a size
  const detail = { given, change };
  document.dispatchEvent(new CustomEvent("stripewright:own", { detail }));
  if (detail.refused) return { refused: detail.refused };
  document.dispatchEvent(new CustomEvent("stripewright:own-steps", { detail }));
  const { worked, tools } = detail;
  const words = {
    steps: detail.told.groups.flatMap(({ steps }) => steps.map((one) => [one.key, `${one.number}. ${one.title}`, one.text, one.piece, one.last])),
    runs: detail.told.groups.flatMap((group) => group.told.map(({ number, title, text }) => [String(number), title, text])),
    events: Object.fromEntries([...detail.told.events].map(([key, events]) => [key,
      events.map((one) => [one.row, one.kind, one.title, one.text, one.until, one.number, one.times])])),
  };
  const figures = tools.figuresOf(given.figures);
  const text = (parts) => parts.map((part) => (Array.isArray(part) ? figures.cm(part[1]) : part)).join("");
  const answer = {
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
  return { answer, words };
});
