// What is told of the pattern besides its stripes, in a plain form.
(() => {
  "use strict";
  const { Easel } = window;
  const { tr } = document.words;
  const { S, $, act, put } = Easel;
  const { field, choice, group, words, fill } = Easel.make;
  let sale = {}; // price and shop of a pattern that is free for the moment

  const set = (name, value) => act((front) => put(front, [name], value === "" ? undefined : value), tr("Changed."));
  const text = (name, type = "text", extra = {}) => {
    const node = Object.assign(document.createElement("input"), { type, id: `about-${name}`, value: S.front[name] ?? "", ...extra });
    node.addEventListener("change", () => set(name, name === "price" ? Easel.typed(node.value.trim()) : node.value.trim()));
    return node;
  };

  const access = (to) => act((front) => {
    if (to === "free") {
      sale = { price: front.price, shop: front.shop };
      const { price, shop, ...rest } = front;
      return { ...rest, access: to };
    }
    const kept = Object.fromEntries(Object.entries(sale).filter(([, value]) => value !== undefined));
    return { ...front, access: to, ...kept };
  }, to === "paid" ? tr("For sale: give its price and its shop.") : tr("Free for everyone."));

  const draw = () => {
    if (document.body.dataset.state !== "open") return;
    const box = $("about");
    const paid = S.front.access === "paid";
    const { yarns, pieces, ...shown } = S.front;
    fill(box, JSON.stringify(shown), () => panel(paid));
  };

  const panel = (paid) => {
    const summary = Object.assign(document.createElement("textarea"), { id: "about-summary", value: S.front.summary ?? "", rows: 3, maxLength: 300 });
    summary.addEventListener("change", () => set("summary", summary.value.replace(/\s+/g, " ").trim()));
    return [
      field(tr("Title"), text("title", "text", { maxLength: 120 })),
      field(tr("One sentence about it"), summary),
      group(field(tr("What it is"), choice(S.kinds, S.front.kind || "other", (to) => set("kind", to))),
        field(tr("Level"), choice([["basic", tr("basic")], ["easy", tr("easy")], ["intermediate", tr("intermediate")], ["complex", tr("complex")]], S.front.level || "easy", (to) => set("level", to)))),
      field(tr("Who may read all of it"), choice([["free", tr("everyone, free")], ["paid", tr("those who buy it")]], S.front.access || "free", access)),
      paid && group(field(tr("Price"), text("price", "text", { inputMode: "decimal" })), field(tr("Shop, with https://"), text("shop", "url"))),
      field(tr("Published on"), text("published", "date")),
      words(S.front.published ? tr("It is on the site from that day on.") : tr("No day yet: a draft. Only this preview shows it.")),
    ];
  };
  Easel.parts.push(draw);
})();
