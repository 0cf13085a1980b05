// A new pattern: what it is, its bed and needles, its gauge; then the colouring begins.
(() => {
  "use strict";
  const { Easel } = window;
  const { tr } = document.words;
  const { S, $ } = Easel;

  const value = (id) => $(id).value.trim();

  const gauge = () => {
    const way = document.querySelector('input[name="begin-gauge"]:checked').value;
    if (way === "like") return { like: value("begin-like") };
    if (way === "swatch") {
      const unit = value("begin-unit");
      return { swatch: { stitches: Number(value("begin-stitches")), rows: Number(value("begin-rows")),
        width: `${value("begin-width")} ${unit}`, length: `${value("begin-length")} ${unit}` } };
    }
    return { gauge: `${value("begin-sts")} sts x ${value("begin-rws")} rows / ${value("begin-over")}` };
  };

  const show = () => {
    const way = document.querySelector('input[name="begin-gauge"]:checked').value;
    for (const one of ["gauge", "swatch", "like"]) $(`begin-by-${one}`).hidden = one !== way;
  };

  const MOST = 25 * 1024 * 1024;

  // What a picture of a coloured sheet says; its doubtful rows are told, to be looked at.
  const sheet = async (file) => {
    const why = (text) => { $("begin-why").textContent = text; };
    if (file.size > MOST) return why(tr("This picture is larger than 25 MB."));
    why(tr("The picture is being read; this takes a moment."));
    const { status, told } = await Easel.send("sheet", file);
    if (status !== 200) return why(told.why);
    why("");
    if (value("begin-title")) told.front.title = value("begin-title");
    go(told.front);
    const doubts = told.doubts.map(({ row, message }) => (row ? tr("Row {row}: {message}.", { row, message }) : `${message}.`));
    const more = doubts.length > 8 ? [tr("and {number} more", { number: doubts.length - 8 })] : [];
    if (doubts.length) Easel.notice(`${tr("Compare with your sheet.")} ${doubts.slice(0, 8).concat(more).join("\n")}`);
  };

  const go = (front) => {
    S.front = front;
    S.base = {};
    Easel.start();
    S.hand = Object.keys(S.front.yarns)[1] || S.hand;
    Easel.draw();
    $("piece").focus();
  };

  const begin = () => {
    document.body.dataset.state = "new";
    for (const [kind, name] of S.kinds) $("begin-kind").append(new Option(name, kind));
    for (const [file, title] of S.gauges) $("begin-like").append(new Option(title, file));
    $("begin-way-like").disabled = !S.gauges.length;
    for (const radio of document.querySelectorAll('input[name="begin-gauge"]')) radio.addEventListener("change", show);
    show();
    $("begin").addEventListener("submit", async (event) => {
      event.preventDefault();
      const asked = { title: value("begin-title"), kind: value("begin-kind"), bed: value("begin-bed"), needles: Number(value("begin-needles")), ...gauge() };
      const { status, told } = await Easel.send("work", { start: asked });
      $("begin-why").textContent = status === 200 ? "" : told.why;
      if (status !== 200) return $("begin-why").focus();
      go({ ...told.front, yarns: { ...told.front.yarns, ...told.spare } });
    });
    $("begin-sheet").addEventListener("change", ({ target }) => target.files[0] && sheet(target.files[0]));
    $("begin-title").focus();
  };

  Easel.begin = begin;
})();
