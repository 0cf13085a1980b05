// What a hand can do to several stripes that follow each other: gestures like the others.
(() => {
  "use strict";
  const { at, put, run, runText, series, expand, renamed, gestures, within } = window.Easel;
  const { tr } = document.words;
  const { WriteOut, Cannot } = gestures;
  const { stated, listOf, top } = within;

  // Whole entries of the list that a selection of stripes touches.
  const entries = (front, key, made, from, to) => {
    const found = stated(front, key);
    const shown = expand(found.items, made);
    const [first, last] = [shown[from].at[0], shown[to].at[0]];
    return { ...found, shown, first: Math.min(first, last), last: Math.max(first, last) };
  };

  const replaced = ({ path, items, first, last }, front, ...more) =>
    put(front, path, [...items.slice(0, first), ...more, ...items.slice(last + 1)]);

  const free = (locked) => {
    if (locked) throw new Cannot(tr("This makes the piece longer, and its length is locked."));
  };

  const duplicate = (front, key, made, from, to, locked) => {
    free(locked);
    const found = entries(front, key, made, from, to);
    const chosen = found.items.slice(found.first, found.last + 1);
    return replaced(found, front, ...chosen, ...chosen);
  };

  const repeat = (front, key, made, from, to, locked, count) => {
    free(locked);
    if (!(count >= 2 && count <= 1000)) throw new Cannot(tr("Repeat it two times or more."));
    const found = entries(front, key, made, from, to);
    return replaced(found, front, { repeat: count, stripes: found.items.slice(found.first, found.last + 1) });
  };

  const mirror = (front, key, made, from, to, locked) => {
    free(locked);
    const found = entries(front, key, made, from, to);
    const chosen = found.items.slice(found.first, found.last + 1);
    if (chosen.length < 2) throw new Cannot(tr("Mirror two stripes or more; the last is the middle."));
    return replaced(found, front, { mirror: chosen });
  };

  const move = (front, key, made, from, to, way) => {
    const found = entries(front, key, made, from, to);
    const inner = found.shown[from].at;
    if (from === to && inner.length > 1) { // inside a mirror or a repeat, it moves there
      const list = at(found.items, listOf(inner));
      const place = inner[inner.length - 1];
      const goes = found.shown[from].flip ? place - way : place + way;
      if (goes < 0 || goes >= list.length) throw new Cannot(tr("It is at the end of what it stands in."));
      const moved = [...list];
      [moved[place], moved[goes]] = [moved[goes], moved[place]];
      return put(front, found.path, put(found.items, listOf(inner), moved));
    }
    const items = [...found.items];
    const chosen = items.splice(found.first, found.last - found.first + 1);
    const goes = found.first + way;
    if (goes < 0 || goes > items.length) throw new Cannot(tr("It is at the end of the piece."));
    items.splice(goes, 0, ...chosen);
    return put(front, found.path, items);
  };

  const turned = (items, first) => items.map((item, number) => {
    if (series(item)) throw new WriteOut(first + number, tr("A series can’t be turned round as it is."));
    return item.stripes && item.repeat !== undefined ? { ...item, stripes: turned(item.stripes, first) } : item;
  }).reverse();

  const reverse = (front, key, made, from, to) => {
    const found = entries(front, key, made, from, to);
    return replaced(found, front, ...turned(found.items.slice(found.first, found.last + 1), found.first));
  };

  const swap = (front, key, made, from, to, one, other) => {
    const found = entries(front, key, made, from, to);
    const chosen = found.items.slice(found.first, found.last + 1);
    return replaced(found, front, ...renamed(chosen, { [one]: other, [other]: one }));
  };

  // A seed's numbers: FNV-1a of its letters, then a linear step; the same on every machine.
  const lots = (seed) => {
    let state = 2166136261;
    for (const letter of String(seed)) state = Math.imul(state ^ letter.codePointAt(0), 16777619);
    return (most) => {
      state = (Math.imul(state, 1664525) + 1013904223) | 0;
      return Math.floor(((state >>> 8) / 16777216) * most);
    };
  };

  const shuffle = (front, key, made, from, to, seed) => {
    const found = entries(front, key, made, from, to);
    const chosen = found.items.slice(found.first, found.last + 1);
    const lot = lots(seed);
    for (let n = chosen.length - 1; n > 0; n -= 1) {
      const other = lot(n + 1);
      [chosen[n], chosen[other]] = [chosen[other], chosen[n]];
    }
    return replaced(found, front, ...chosen);
  };

  const evenly = (front, key, made, from, to) => {
    const found = entries(front, key, made, from, to);
    const chosen = found.items.slice(found.first, found.last + 1);
    const bent = chosen.findIndex((item) => !run(item));
    if (bent >= 0) throw new WriteOut(found.first + bent, tr("Here is {what}.", { what: top(chosen, bent) }));
    const total = chosen.reduce((sum, item) => sum + run(item).count, 0);
    const [each, over] = [Math.floor(total / chosen.length), total % chosen.length];
    return replaced(found, front, ...chosen.map((item, n) => runText({ ...run(item), count: each + (n < over) }, item)));
  };

  Object.assign(gestures, { duplicate, repeat, mirror, move, reverse, swap, shuffle, evenly });
})();
