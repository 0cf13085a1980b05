// Your own machine: works the pattern anew for other needles or another gauge, as the program's
// `worksheet` does (compute/ is its model, name by name), and puts the numbers into the page.
// It comes when it is first opened, and hears the pattern's inputs as "stripewright:numbers".
// Who wants the numbers alone sends "stripewright:own" with detail.change, and reads detail.worked.
(() => {
  "use strict";

  const { tr, trn } = document.words;
  const needlesWord = (number) => trn(number, "{number} needle", "{number} needles");
  const stitchesWord = (number) => trn(number, "{number} stitch", "{number} stitches");
  const rowsWord = (number) => trn(number, "{number} row", "{number} rows");
  const ballsWord = (number) => trn(number, "{number} ball", "{number} balls");

  // ---- the arithmetic -----------------------------------------------------------------------
  const FUZZ = 1e-9;
  const whole = (value) => Math.floor(value + 0.5);
  const evenly = (value) => { // Python's round: a half goes to the even neighbour
    const low = Math.floor(value);
    const rest = value - low;
    if (rest !== 0.5) return Math.round(value);
    return low % 2 ? low + 1 : low;
  };
  const sum = (list) => list.reduce((a, b) => a + b, 0);
  const MOST_ROWS = 5000;
  const MOST_STRIPES = 850;

  class Refused extends Error {}

  // Whole rows by largest remainder, none under its least; a mirrored list stays mirrored.
  const share = (total, weights, leasts) => {
    let rest = total;
    let all = sum(weights);
    const count = weights.length;
    const up = new Set();
    if (!weights.every((w, i) => total * w >= leasts[i] * all)) {
      const needs = weights.map((w, i) => i).sort((a, b) =>
        leasts[b] * weights[a] - leasts[a] * weights[b] || a - b);
      for (const i of needs) {
        if (!(rest * weights[i] < leasts[i] * all)) break;
        rest -= leasts[i];
        all -= weights[i];
        up.add(i);
      }
    }
    const rows = [...leasts];
    const remainders = [];
    let left = rest;
    weights.forEach((w, i) => {
      if (up.has(i)) return;
      rows[i] = Math.floor((rest * w) / all);
      if (rows[i] * all > rest * w) rows[i] -= 1;
      remainders.push([rest * w - rows[i] * all, i]);
      left -= rows[i];
    });
    remainders.sort((a, b) => b[0] - a[0] || a[1] - b[1]);
    const mirrored = weights.every((w, i) => w === weights[count - 1 - i] &&
      leasts[i] === leasts[count - 1 - i]);
    for (const i of winners(remainders, left, mirrored ? count : 0)) rows[i] += 1;
    return rows;
  };

  const winners = (remainders, left, mirrored) => {
    const order = remainders.map(([, i]) => i);
    const before = remainders[left ? left - 1 : remainders.length - 1];
    if (!mirrored || before[0] !== remainders[left][0]) return order.slice(0, left);
    const level = remainders[left][0];
    const far = mirrored - 1;
    const won = remainders.filter(([r]) => r > level).map(([, i]) => i);
    const pairs = remainders.filter(([r, i]) => r === level && i < far - i).flatMap(([, i]) => [i, far - i]);
    const middle = mirrored % 2 ? Math.floor(mirrored / 2) : -1;
    let need = left - won.length;
    if (need % 2 && won.includes(middle)) {
      won.splice(won.indexOf(middle), 1);
      need += 1;
    } else if (need % 2 && order.includes(middle)) {
      won.push(middle);
      need -= 1;
    }
    return [...won, ...pairs.slice(0, need)];
  };

  // ---- ends, plan, sizes
  const allowance = ([edge, rows], along) => {
    if (rows !== null) return rows;
    const hem = () => Math.min(Math.max(2, evenly(2.0 * along)), 200);
    return { open: 0, seamed: 1, gathered: 1, grafted: 0, hemmed: hem() }[edge];
  };

  const worksEnds = (ends, along) => {
    const grafted = ([edge, rows]) => (edge === "grafted" && rows === null ? 1 : 0);
    const both = ends.every(([edge]) => edge === "grafted");
    return ends.map((end, at) => ({ edge: end[0], rows: allowance(end, along),
      grafted: at === 0 && both ? 0 : grafted(end) }));
  };

  const knittable = (ends, stripes) => {
    const [first, last] = ends.map((end) => ({ ...end }));
    if (stripes[0][1] + first.rows <= first.grafted) first.grafted = 0;
    const total = sum(stripes.map(([, rows]) => rows)) + first.rows + last.rows;
    if (total <= first.grafted + last.grafted) first.grafted = last.grafted = 0;
    return [first, last];
  };

  const layOut = (stripes, ends, most, tube) => {
    const lines = [];
    let row = 0;
    stripes.forEach(([yarn, rows], at) => {
      const one = at === 0;
      const end = at === stripes.length - 1;
      const before = one ? ends[0].rows : 0;
      const after = end ? ends[1].rows : 0;
      const made = (one ? ends[0].grafted : 0) + (end ? ends[1].grafted : 0);
      const last = row + before + rows + after - made;
      lines.push({ yarn, first: row + 1, last, rows: last - row, visible: rows, before, after, made,
        carried: false });
      row = last;
    });
    if (most) {
      const left = new Map();
      for (const line of lines) {
        const over = line.first - 1 - (left.has(line.yarn) ? left.get(line.yarn) : -most - 2);
        line.carried = over <= most && (tube || over % 2 === 0);
        left.set(line.yarn, line.last);
      }
    }
    return lines;
  };

  const flatWidth = (form, stitches, across) =>
    (form === "tube" ? stitches / across / 2 : stitches / across);

  const isBag = (form, sides, fold, rows) =>
    !(form === "tube" || sides !== "seamed" || fold === null) && rows <= 3 * fold && 3 * fold <= 2 * rows;

  const madeUpWidth = (form, sides, stitches, make, across, bag) => {
    if (form === "tube" || sides === "open") return flatWidth(form, stitches, across);
    if (sides === "seamed") return Math.max(stitches - 2, 1) / across / (bag ? 1 : 2);
    return Math.max(make * stitches - 2 * (make - 1), 1) / across;
  };

  // ---- what is filled
  const DISC_WIDTH = 0.7627597636;
  const DISC_THICKNESS = 0.9138931620 / 2;
  const cushion = (width, length) => {
    const [short, long] = width <= length ? [width, length] : [length, width];
    const way = 10 ** (1 - long / short);
    const cylinder = 2 / Math.PI;
    const thickness = short * (cylinder + (DISC_THICKNESS - cylinder) * way);
    const across = short * (cylinder + (DISC_WIDTH - cylinder) * way);
    const along = long - (thickness * (1 - DISC_WIDTH)) / DISC_THICKNESS;
    const ratio = long / short;
    const volume = short ** 3 * (ratio / Math.PI - 0.142 * (1 - 10 ** -ratio));
    const [w, l] = width <= length ? [across, along] : [along, across];
    return { kind: "cushion", width: w, length: l, thickness, volume, low: null };
  };

  const quarterEllipse = (across, along) => {
    const uneven = 3 * ((across - along) / (across + along)) ** 2;
    return (Math.PI * (across + along) * (1 + uneven / (10 + Math.sqrt(4 - uneven)))) / 4;
  };

  const dome = (radius, length) => {
    if (length >= Math.PI * radius) return radius;
    let low = 0;
    let high = radius;
    for (let turn = 0; turn < 50; turn += 1) {
      const middle = (low + high) / 2;
      if (quarterEllipse(radius, middle) < length / 2) low = middle;
      else high = middle;
    }
    return low;
  };

  const cylinder = (girth, length) => {
    const radius = girth / (2 * Math.PI);
    const flat = length - 2 * radius;
    if (flat <= 0) return null;
    const high = dome(radius, length);
    const straight = Math.max(length - Math.PI * radius, 0);
    const disc = Math.PI * radius ** 2;
    const domed = disc * (straight + (4 / 3) * high);
    return { kind: "round", width: 2 * radius, length: straight + 2 * high, thickness: 2 * radius,
      volume: (disc * flat + domed) / 2, low: flat };
  };

  const torus = (girth, length) => {
    if (length <= girth) return null;
    const radius = girth / (2 * Math.PI);
    const across = length / Math.PI + 2 * radius;
    return { kind: "ring", width: across, length: across, thickness: 2 * radius,
      volume: Math.PI * radius ** 2 * length, low: null };
  };

  const solid = (width, length, edges) => {
    if (edges.every((edge) => edge === "grafted")) return torus(2 * width, length);
    const gathered = edges.filter((edge) => edge === "gathered").length;
    if (!gathered) return cushion(width, length);
    const round = cylinder(2 * width, length);
    if (gathered === 2 || round === null) return round;
    const flat = cushion(width, length);
    const mean = (name) => (round[name] + flat[name]) / 2;
    return { kind: "cushion", width: mean("width"), length: mean("length"), thickness: mean("thickness"),
      volume: mean("volume"), low: ((round.low || round.length) + flat.length) / 2 };
  };

  // ---- the pieces
  const bedOf = (given, change) => {
    const [bed, , every] = given.machine;
    const needles = change.needles || given.machine[1];
    if (!Number.isInteger(needles) || needles < 4 || needles > 1000) {
      throw new Refused(tr("Needles: write a whole number from 4 to 1000."));
    }
    if (bed === "circular" && needles % every) {
      throw new Refused(tr("Working every {every} needles doesn't go round {needles} evenly.", { every, needles }));
    }
    return Math.ceil(needles / every);
  };

  const rewritten = (given, change, gauge) => {
    const [across0, along0] = given.gauge;
    const [across, along] = gauge;
    const inWork = bedOf(given, change);
    const notes = [];
    const pieces = given.pieces.map((piece) => {
      const bed = piece.bed === null ? inWork : piece.bed;
      let stitches;
      if (piece.form === "tube") stitches = bed;
      else if (change.keep !== "size") stitches = Math.min(piece.needles || bed, bed);
      else stitches = Math.max(whole(piece.stitches * (across / across0)), 2);
      if (stitches > bed) {
        notes.push(tr("{piece}: keeping its width would take {stitches} needles, and the bed has {bed}.", { piece: piece.title, stitches, bed }));
        stitches = bed;
      }
      const width = flatWidth(piece.form, stitches, across);
      const grows = change.keep === "proportions" ? width / piece.width : 1;
      const [visible, first, last] = piece.rows;
      const knitted = piece.lining === null ? visible : visible + first + last;
      let { length } = piece;
      if (piece.lining !== null) length *= knitted / visible;
      const rows = change.keep === "rows" ? knitted : Math.max(whole(length * grows * along), 1);
      return { ...piece, stitches, width, grows, rows, scale: rows / visible,
        ratio: rows / knitted, wished: piece.wish === null ? null : piece.wish * grows };
    });
    return { pieces, notes, along0 };
  };

  const tooMany = ({ title, rows }) => tr("{piece}: {rows} rows are too many.", { piece: title, rows });
  const stripesOf = (piece, pieces) => {
    if (piece.lining === null) {
      const counts = piece.plan.map(([, visible]) => visible);
      if (piece.rows > MOST_ROWS) throw new Refused(tooMany(piece));
      if (piece.rows < counts.length) throw new Refused(tr("{piece}: {rows} rows are too few for {stripes} stripes.", { piece: piece.title, rows: piece.rows, stripes: counts.length }));
      const rows = share(piece.rows, counts, counts.map(() => 1));
      return piece.plan.map(([yarn], at) => [yarn, rows[at]]);
    }
    const cover = stripesOf(pieces.find(({ key }) => key === piece.lining), pieces);
    let total = sum(cover.map(([, rows]) => rows));
    if (piece.own) {
      if (piece.rows > MOST_ROWS) throw new Refused(tooMany(piece));
      if (piece.rows < cover.length * piece.least) throw new Refused(tr("{piece}: {rows} rows are too few.", { piece: piece.title, rows: piece.rows }));
      total = piece.rows;
    }
    return [[piece.plan[0][0], total]];
  };

  // A brim that is turned up outside: where, and what it shows from its upper edge down.
  const turnedUp = (piece, rows) => {
    const [first, last] = piece.ends;
    const free = ({ edge }) => edge === "open" || edge === "hemmed";
    const hem = (end) => (end.edge === "hemmed" ? end.rows : 0);
    let [end, outer, inner, edge] = free(first) ? [0, piece.visible, hem(first), first.rows]
      : [1, piece.visible, hem(last), piece.worked - last.rows];
    if (piece.fold !== null) {
      const inside = 2 * piece.fold <= piece.visible;
      [end, outer, inner, edge] = inside ? [0, piece.visible - piece.fold, piece.fold, piece.foldAt]
        : [1, piece.fold, piece.visible - piece.fold, piece.foldAt];
    }
    if (2 * rows >= outer || (inner && rows > inner)) throw new Refused(tr("{piece}: there are too few rows to turn {rows} of them up.", { piece: piece.title, rows }));
    const rising = (inner > 0) === (end === 1);
    const bands = [];
    for (let n = 0; n < rows; n += 1) {
      const row = rising ? edge + 1 + n : edge - n;
      const { yarn } = piece.plan.find((line) => line.last >= row) || piece.plan[piece.plan.length - 1];
      if (bands.length && bands[bands.length - 1][0] === yarn) bands[bands.length - 1][1] += 1;
      else bands.push([yarn, 1]);
    }
    return { rows, turn: end === 0 ? edge + rows : edge - rows, end, layers: inner ? 2 : 1, bands };
  };

  const worksPiece = (piece, pieces, gauge) => {
    const [across, along] = gauge;
    let stripes = stripesOf(piece, pieces);
    const [brimEnd, doubled, turned] = piece.brim || [null, null, null];
    const scaled = (rows) => (rows === null ? null : Math.max(1, whole(rows * piece.scale)));
    const written = piece.ends.map(([edge, rows], at) => [edge, doubled !== null && at === brimEnd ? scaled(doubled) : rows]);
    let ends = worksEnds(written, along);
    if (piece.lining !== null) stripes = [[stripes[0][0], Math.max(stripes[0][1] - ends[0].rows - ends[1].rows, 1)]];
    ends = knittable(ends, stripes);
    const visible = sum(stripes.map(([, rows]) => rows));
    const tube = piece.form === "tube";
    const plan = layOut(stripes, ends, piece.carry, tube);
    const worked = plan[plan.length - 1].last;
    const before = ends[0].rows - ends[0].grafted;
    let fold = null;
    if (piece.fold !== null) {
      fold = piece.fold === "half" ? Math.floor(visible / 2) : Math.max(1, whole(piece.fold * piece.scale));
      if (!(fold > 0 && fold < visible)) throw new Refused(tr("{piece}: the fold lies outside its {rows} rows.", { piece: piece.title, rows: visible }));
    }
    const openings = piece.openings.map(([what, after0, rows0, side]) => {
      const after = whole(after0 * piece.scale);
      const rows = Math.max(1, whole(rows0 * piece.scale));
      if (after + rows > visible) throw new Refused(tr("{piece}: the opening “{what}” would end beyond its {rows} rows.", { piece: piece.title, what, rows: visible }));
      return { what, side, first: before + after + 1, last: Math.min(before + after + rows, worked) };
    });
    const bag = isBag(piece.form, piece.sides, fold, visible);
    const upWidth = madeUpWidth(piece.form, piece.sides, piece.stitches, piece.make, across, bag);
    const foldAt = fold === null ? null : before + fold;
    const brim = turned === null ? null : turnedUp({ ...piece, plan, ends, visible, worked, foldAt, fold }, scaled(turned));
    const upLength = (fold === null ? visible : Math.max(fold, visible - fold)) / along - (brim ? brim.rows / along : 0);
    let fringe = null;
    if (piece.fringe !== null) {
      const [length, strands, every, yarn] = piece.fringe;
      const layers = tube || piece.sides === "seamed" ? 2 : 1;
      const round = Math.floor(Math.max(piece.stitches - 2 * (!tube && layers === 2), 2) / layers);
      const yarns = yarn === null ? [plan[0].yarn, plan[plan.length - 1].yarn] : [yarn, yarn];
      fringe = { tassels: Math.floor((round - 1) / every) + 1, strands, every, layers, cut: 2 * length + 3, yarns, along: 0 };
    }
    return { ...piece, plan, ends, visible, worked, fold: foldAt, folded: fold, brim, brimUp: brim !== null,
      hidden: before, openings, bag, upWidth, upLength, fringe, tube,
      girthCm: tube || piece.sides === "seamed" ? 2 * upWidth : null,
      lengthCm: visible / along, workedCm: worked / along,
      ring: tube && ends.every(({ edge }) => edge === "grafted"),
      solid: piece.filled ? solid(upWidth, upLength, piece.edges) : null };
  };

  // Tassels at one end of all copies; along joined panels of one fringe they are counted as one cloth.
  const tasselsOf = ({ fringe, make }) => (fringe ? fringe.along || fringe.tassels * make : 0);
  const fringed = (given, pieces) => {
    const laid = laidOut(given, pieces);
    if (laid.length < 2) return;
    const kinds = new Set(laid.map(({ fringe }) => fringe && JSON.stringify({ ...fringe, tassels: 0 })));
    if (kinds.size > 1 || kinds.has(null)) return;
    const found = new Map(laid.map((piece) => [piece, 0]));
    let done = 0;
    laid.forEach((piece, at) => {
      const { every } = piece.fringe;
      const end = done + piece.stitches - (at > 0) - (at < laid.length - 1);
      const upTo = (stitches) => Math.floor((stitches + every - 1) / every);
      if (every) found.set(piece, found.get(piece) + upTo(end) - upTo(done));
      done = end;
    });
    for (const [piece, along] of found) piece.fringe = { ...piece.fringe, along };
  };
  const laidOut = (given, pieces) => {
    const panels = pieces.filter(({ sides }) => sides === "joined");
    return given.join.length ? given.join.map((key) => panels.find((piece) => piece.key === key))
      : panels.flatMap((piece) => Array(piece.make).fill(piece));
  };

  // ---- yarn
  const TIMES = { open: 3, seamed: 3, gathered: 2, grafted: 4, hemmed: 3 };
  const SPARE = 15;
  const edgeLength = (piece, edge) => {
    const closed = piece.tube && (edge === "seamed" || edge === "grafted") && !piece.ring;
    return piece.form === "panel" || closed ? piece.width : 2 * piece.width;
  };

  const longTails = (pieces, inside, seam) => {
    const tails = new Map([["inside", inside]]);
    for (const piece of pieces) {
      ["first", "last"].forEach((name, at) => {
        if (!at && piece.ends.every(({ edge }) => edge === "grafted")) return;
        const { edge } = piece.ends[at];
        tails.set(`${piece.key}.${name}`, seam || TIMES[edge] * edgeLength(piece, edge) + SPARE);
      });
      if (piece.sides !== "open" && piece.form === "panel") {
        tails.set(`${piece.key}.side`, TIMES.seamed * piece.upLength + SPARE);
      }
    }
    return tails;
  };

  const isCut = (plan, at) => {
    const later = plan.slice(at + 1).find(({ yarn }) => yarn === plan[at].yarn);
    return !(later && later.carried);
  };

  const sideSeams = (piece, pieces) => {
    if (piece.tube || piece.sides === "open") return 0;
    if (piece.sides === "joined") {
      const last = pieces.filter(({ sides }) => sides === "joined").pop();
      return piece.make - (piece === last ? 1 : 0);
    }
    return piece.make * (piece.bag ? 2 : 1);
  };

  const allTails = (pieces, lengths) => {
    const left = [];
    const inside = lengths.get("inside");
    for (const piece of pieces) {
      const { plan, make } = piece;
      const first = plan[0].yarn;
      const last = plan[plan.length - 1].yarn;
      const begun = lengths.has(`${piece.key}.first`) ? lengths.get(`${piece.key}.first`) : inside;
      left.push([first, begun, make], [last, lengths.get(`${piece.key}.last`), make]);
      const perRow = piece.workedCm / piece.worked;
      const stood = new Map();
      plan.forEach((line, at) => {
        if (line.carried) left.push([line.yarn, (line.first - 1 - stood.get(line.yarn)) * perRow, make]);
        else if (at && line.rows) left.push([line.yarn, inside, make]);
        if (at < plan.length - 1 && isCut(plan, at)) left.push([line.yarn, inside, make]);
        stood.set(line.yarn, line.last);
      });
      if (lengths.has(`${piece.key}.side`)) {
        left.push([first, lengths.get(`${piece.key}.side`), sideSeams(piece, pieces)]);
      }
      if (piece.fringe) {
        const { strands, cut, yarns } = piece.fringe;
        for (const yarn of yarns) left.push([yarn, cut, tasselsOf(piece) * strands]);
      }
    }
    return left;
  };

  const loopOf = (given, gauge, changed) => {
    const figure = (value, spread, estimated) =>
      ({ value, low: value * (1 - spread), high: value * (1 + spread), estimated });
    const [value, low, high, estimated] = given.loop;
    if (!changed) return { value, low, high, estimated, grams: given.stitch_g };
    const [across, along] = gauge;
    if (given.reach !== null) {
      const tex = 1000 / given.reach;
      const diameter = Math.sqrt((4 * tex * 1e-5) / (Math.PI * 0.5));
      return { ...figure(2 / along + 1 / across + 5.94 * diameter, 0.15, true), grams: null };
    }
    return { ...figure(Math.sqrt(21.6 / (across * along)), 0.2, true), grams: null };
  };

  const lengthOf = (yarn, use, inside, loop, ball) => {
    const of = (one) => (yarn.strands * (use.stitches * one + use.hanging)) / 100;
    const parts = { value: of(loop.value), low: of(loop.low), high: of(loop.high) };
    if (ball !== null) {
      const joins = Math.trunc(parts.value / ball);
      for (const name of Object.keys(parts)) parts[name] += (joins * 2 * inside) / 100;
    }
    return parts;
  };

  const neededOf = (length, margin, estimated) => {
    const more = length.value * (1 + margin);
    return estimated ? Math.max(more, length.high) : more;
  };

  const choicesOf = (balls, needed, used) => balls.map(([mass, metres, reach, price, currency]) => {
    const number = Math.ceil(needed / metres - FUZZ);
    return { mass, metres, balls: number, left: (number * metres - used) / reach,
      cost: price === null ? null : number * price, currency: price === null ? null : currency };
  });

  const bestOf = (counts) => {
    if (!counts.length) return null;
    const priced = counts.every(({ cost }) => cost !== null) &&
      new Set(counts.map(({ currency }) => currency)).size === 1;
    const [one, two] = priced ? ["cost", "left"] : ["left", "balls"];
    return counts.reduce((best, now) =>
      (now[one] < best[one] || (now[one] === best[one] && now[two] < best[two]) ? now : best));
  };

  const worksYarns = (given, pieces, loop, seam) => {
    const [inside] = given.tails;
    const tails = longTails(pieces, inside, seam);
    const uses = given.yarns.map(() => ({ rows: 0, stitches: 0, hanging: 0 }));
    const all = (yarn) => new Set([yarn, ...given.yarns[yarn].marl]);
    for (const piece of pieces) {
      for (const line of piece.plan) {
        for (const yarn of all(line.yarn)) {
          uses[yarn].rows += line.rows * piece.make;
          uses[yarn].stitches += line.rows * piece.make * piece.stitches;
        }
      }
    }
    for (const [yarn, length, times] of allTails(pieces, tails)) {
      for (const one of all(yarn)) uses[one].hanging += length * times;
    }
    const yarns = given.yarns.map((yarn, at) => {
      const lengths = yarn.balls.map(([, metres]) => lengthOf(yarn, uses[at], inside, loop, metres));
      const bought = (length, balls) => choicesOf(balls, neededOf(length, given.margin, loop.estimated), length.value);
      const counts = yarn.balls.flatMap((ball, i) => bought(lengths[i], [ball]));
      const found = bestOf(counts);
      const length = found ? lengths[counts.indexOf(found)] : lengthOf(yarn, uses[at], inside, loop, null);
      const choices = found ? bought(length, yarn.balls) : [];
      let mass = null;
      if (!yarn.marl.length) {
        if (yarn.reach !== null) mass = length.value / yarn.reach;
        else if (loop.grams !== null) mass = length.value / ((yarn.strands * loop.value) / 100 / loop.grams);
      }
      return { length: length.value, mass, estimated: loop.estimated, rows: uses[at].rows,
        best: bestOf(choices), choices };
    });
    return { yarns, tails };
  };

  // ---- what happens along a piece
  const ORDER = ["slit_end", "gap_end", "repeat_end", "hem", "fold", "turn_up", "join", "repeat", "slit", "gap", "graft", "fill_gap"];
  const eventsOf = (piece, repeats, least) => {
    const found = [];
    const add = (row, kind, more = {}) => found.push({ row, kind, what: "", side: "", until: null, number: 0, times: 1, ...more });
    piece.openings.forEach(({ what, side, first, last }, at) => {
      const kind = piece.tube ? "slit" : "gap";
      add(first - 1, kind, { what, side, until: last, number: at + 1 });
      add(last, `${kind}_end`, { what, side, number: at + 1 });
    });
    const [begin, end] = piece.ends;
    const deep = ({ edge, rows }) => edge === "hemmed" && rows >= least;
    if (deep(begin)) add(begin.rows, "hem", { side: "first" });
    if (deep(end)) add(piece.worked - end.rows, "hem", { side: "last" });
    if (begin.grafted) add(0, "graft", { what: piece.plan[0].yarn, side: "first", number: 1 });
    if (end.grafted) add(piece.worked, "graft", { what: piece.plan[piece.plan.length - 1].yarn, side: "last", number: piece.plan.length });
    if (piece.filled && piece.lining === null) add(piece.worked, "fill_gap", { side: "last" });
    for (const [first, stripes, times] of repeats) {
      const last = piece.plan[first + stripes * times - 1].last;
      add(piece.plan[first].first - 1, "repeat", { until: last, number: stripes, times });
      add(last, "repeat_end", { number: stripes, times });
    }
    for (const [key, row] of piece.joins) add(row, "join", { what: key });
    const inside = piece.folded === null || (piece.form === "panel" && piece.sides === "seamed") ? ""
      : 2 * piece.folded <= piece.visible ? "first" : "last";
    if (piece.fold !== null) add(piece.fold, "fold", { side: inside });
    if (piece.brim) add(piece.brim.turn, "turn_up", { number: piece.brim.rows, side: piece.brim.end ? "last" : "first" });
    return found.map((one, at) => [one, at]).sort(([a, i], [b, j]) => a.row - b.row ||
      ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind) || i - j).map(([one]) => one);
  };

  const repeatsOf = (plan, stops) => {
    const marks = plan.map((line, at) => {
      const busy = stops.some((stop) => line.first <= stop + 1 && stop + 1 <= line.last);
      return busy || line.made || line.before || line.after ? `#${at}` : `${line.yarn} ${line.rows} ${line.carried}`;
    });
    const found = [];
    let at = 0;
    while (at < marks.length) {
      let best = null;
      for (let stripes = 2; stripes <= Math.floor((marks.length - at) / 3); stripes += 1) {
        let same = at;
        while (same + stripes < marks.length && marks[same] === marks[same + stripes]) same += 1;
        const times = Math.floor((same - at) / stripes) + 1;
        if (times >= 3 && (!best || stripes * times > best[1] * best[2])) best = [at, stripes, times];
      }
      if (best) found.push(best);
      at += best ? best[1] * best[2] : 1;
    }
    return found;
  };

  const happenings = (piece, least) => {
    const once = eventsOf(piece, [], least);
    const repeats = repeatsOf(piece.plan, once.filter(({ kind }) => kind !== "fill_gap").map(({ row }) => row));
    return { events: eventsOf(piece, repeats, least), repeats };
  };

  // ---- the whole
  const worksTime = (given, pieces, grams) => {
    const { pace } = given;
    const knitting = sum(pieces.map((piece) => {
      const changes = piece.plan.slice(1).filter(({ rows }) => rows).length;
      return piece.make * ((piece.worked + 2 * given.waste) / pace.rows_per_minute +
        changes * pace.change_minutes + pace.setup_minutes);
    }));
    let making = pace.making_up_minutes;
    if (making === null) {
      making = pace.finishing_minutes + (pace.fill_minutes * grams) / 100;
      making += sum(pieces.map((piece) => {
        const ends = piece.ring ? piece.ends.slice(1) : piece.ends;
        let sewn = sum(ends.map(({ edge }) => edgeLength(piece, edge))) * piece.make;
        sewn += sideSeams(piece, pieces) * piece.upLength;
        const laid = piece.plan.slice(1).filter(({ rows, carried }) => rows > 0 && !carried).length;
        const cut = piece.plan.slice(0, -1).filter((line, at) => isCut(piece.plan, at)).length;
        const tails = piece.make * (laid + cut + 2);
        const tassels = 2 * tasselsOf(piece);
        return sewn / pace.seam_cm_per_minute + tails * pace.tail_minutes +
          tassels * pace.tassel_minutes + (piece.attach ? piece.make : 0) * pace.attach_minutes;
      }));
    }
    return [(knitting + making) * 0.8, (knitting + making) * 1.5];
  };

  const finishedOf = (given, pieces, across) => {
    const visible = pieces.filter(({ lining }) => lining === null);
    const shown = visible.length ? visible : pieces;
    const one = (piece) => {
      const title = piece.make > 1 ? tr("{piece}, each of {number}", { piece: piece.title, number: piece.make }) : piece.title;
      if (piece.solid) {
        const { kind, width, length, thickness, low } = piece.solid;
        const note = { round: tr("filled, round"), ring: tr("a filled ring") }[kind] || tr("filled");
        return { title, width, length, thickness, low, across: kind === "ring", note };
      }
      if (piece.ring) {
        return { title, width: piece.upLength, length: piece.width, around: true, note: tr("a ring of two layers") };
      }
      const around = given.kind !== "scarf" && piece.tube && piece.girthCm !== null;
      return { title, width: around ? piece.girthCm : piece.upWidth, length: piece.upLength, around,
        note: [piece.fold !== null && tr("folded"), piece.brimUp && tr("brim turned up")].filter(Boolean).join(", ") };
    };
    const laid = laidOut(given, pieces);
    if (laid.length < 2) return shown.map(one);
    const stitches = sum(laid.map((piece) => piece.stitches)) - 2 * (laid.length - 1);
    const kind = tr(given.kind);
    const whole = { title: given.kind === "other" ? tr("The whole") : kind[0].toUpperCase() + kind.slice(1),
      width: Math.max(stitches, 1) / across, length: Math.max(...laid.map(({ upLength }) => upLength)),
      note: tr("{number} panels joined", { number: laid.length }) };
    return [whole, ...shown.filter(({ sides }) => sides !== "joined").map(one)];
  };

  const work = (given, change) => {
    const gauge = change.gauge || given.gauge;
    if (!gauge.every((count) => count > 0 && count <= 1000)) throw new Refused(tr("Stitches and rows: write numbers above 0."));
    const { pieces: written, notes } = rewritten(given, change, gauge);
    const pieces = written.map((piece) => worksPiece(piece, written, gauge));
    fringed(given, pieces);
    for (const piece of pieces) {
      piece.joins = [];
    }
    for (const piece of pieces) {
      if (!piece.attach || piece.attach[1] === null) continue;
      const to = pieces.find(({ key }) => key === piece.attach[0]);
      if (!to) continue;
      const at = whole(piece.attach[1] * to.ratio);
      if (at > to.visible) throw new Refused(tr("{piece} would be sewn on beyond the {rows} rows of {to}.", { piece: piece.title, rows: to.visible, to: to.title }));
      to.joins.push([piece.key, Math.max(to.hidden + at, 0)]);
    }
    for (const piece of pieces) Object.assign(piece, happenings(piece, given.telling.deep));
    if (sum(pieces.map(({ plan }) => plan.length)) > MOST_STRIPES) throw new Refused(tr("There are too many stripes."));
    const widest = Math.max(1, ...pieces.map((piece, at) => piece.width / given.pieces[at].width));
    const seam = given.tails[1] === null ? null : given.tails[1] * widest;
    const loop = loopOf(given, gauge, change.gauge !== null && change.gauge !== undefined);
    const { yarns, tails } = worksYarns(given, pieces, loop, seam);
    let filling = null;
    const held = pieces.filter(({ solid: shape }) => shape);
    const covers = new Set(held.map(({ key }) => key));
    const told = held.filter(({ lining }) => !covers.has(lining));
    const volume = sum(told.map((piece) => piece.make * piece.solid.volume));
    if (held.length) filling = given.fill.weighed || (volume * given.fill.density) / 1000;
    const parts = new Map(told.map((piece) => [piece.key, filling * (piece.solid.volume / volume)]));
    const waste = (sum(pieces.map((piece) => 2 * given.waste * piece.stitches * piece.make)) * loop.value) / 100;
    return { gauge, pieces, notes, yarns, tails, filling, parts, waste, loop,
      needles: change.needles || given.machine[1], keep: change.keep, gauged: Boolean(change.gauge),
      time: worksTime(given, pieces, filling || 0),
      finished: finishedOf(given, pieces, gauge[0]) };
  };

  // Sizes alone, of a paid pattern's public page: from whole centimetres, so only about right.
  const workSizes = (given, change) => {
    const gauge = change.gauge || given.gauge;
    if (!gauge.every((count) => count > 0 && count <= 1000)) throw new Refused(tr("Stitches and rows: write numbers above 0."));
    const inWork = bedOf(given, change);
    const pieces = given.pieces.map((piece) => {
      const bed = change.needles ? inWork : piece.stitches;
      let stitches = piece.form === "tube" ? bed : Math.min(piece.stitches, bed);
      if (change.keep === "size" && piece.form !== "tube") stitches = Math.min(Math.max(whole((piece.stitches * gauge[0]) / given.gauge[0]), 2), bed);
      const wider = stitches / piece.stitches / (gauge[0] / given.gauge[0]);
      const longer = { rows: given.gauge[1] / gauge[1], size: 1, proportions: wider }[change.keep];
      const tube = piece.form === "tube";
      const upWidth = piece.up[0] * wider;
      const upLength = piece.up[1] * longer;
      return { ...piece, stitches, tube, width: piece.width * wider, upWidth, upLength,
        ring: tube && piece.edges.every((edge) => edge === "grafted"), fold: piece.folded ? 1 : null,
        girthCm: piece.girth ? 2 * upWidth : null,
        solid: piece.filled ? solid(upWidth, upLength, piece.edges) : null };
    });
    return { gauge, pieces, notes: [], needles: change.needles || given.machine[1], keep: change.keep,
      finished: finishedOf(given, pieces, gauge[0]) };
  };

  // ---- figures, as `figures.py` tells them ---------------------------------------------------
  const rounded = (value, digits = 0) => {
    const scale = 10 ** digits;
    const found = Math.trunc(Math.abs(value) * scale + 0.5 + FUZZ) / scale;
    return value < 0 && found ? -found : found;
  };
  const upTo = (value, step) => Math.ceil(value / step - FUZZ) * step;

  const figuresOf = ({ imperial, marks: [point, group], prices, currency }) => {
    const number = (value, digits = 0) => {
      let [head, tail = ""] = rounded(value, digits).toFixed(digits).split(".");
      tail = tail.replace(/0+$/, "");
      head = head.replace(/\B(?=(\d{3})+$)/g, group);
      return tail ? head + point + tail : head;
    };
    const told = (value) => number(value, Math.abs(value) < 10 ? 1 : 0);
    const both = (metric, inch) => (imperial ? `${inch} (${metric})` : `${metric} (${inch})`);
    const inches = (cm) => {
      const count = rounded((cm / 2.54) * 8);
      const eighth = count % 8;
      const head = Math.floor(count / 8);
      return (head || !eighth ? number(head) : "") + ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"][eighth];
    };
    return {
      number, imperial,
      cm: (cm) => both(`${number(cm, 1)} cm`, `${inches(cm)} in`),
      m: (m) => both(`${told(m)} m`, `${told(m / 0.9144)} yd`),
      g: (g) => both(`${told(g)} g`, `${number(g / 28.349523125, 1)} oz`),
      cut: (cm) => both(`${number(upTo(cm, 1))} cm`, `${number(upTo(cm / 2.54, 1))} in`),
      gauge: ([across, along]) => {
        const over = (length, name) => {
          const counts = [across * length, along * length];
          const exact = counts.every((one) => Math.abs(rounded(one, 1) - one) < 1e-6);
          const said = tr("{stitches} stitches and {rows} rows to {length}", { stitches: number(counts[0], 1), rows: number(counts[1], 1), length: name });
          return exact ? said : tr("about {amount}", { amount: said });
        };
        return both(over(10, "10 cm"), over(10.16, "4 in"));
      },
      price: (amount, code) => {
        const [, before, sample, after] = prices[code || currency].match(/^(\D*)([\d.,\s\u00a0\u202f’']*\d)(\D*)$/u);
        const marks = [...sample.matchAll(/\D/gu)].map(([mark]) => mark);
        const digits = sample.endsWith("5") ? 1 : (sample.split(/\D/u).pop().length % 3 || 0);
        let [head, tail] = rounded(amount, digits).toFixed(digits).split(".");
        if (marks.length > (tail ? 1 : 0)) head = head.replace(/\B(?=(\d{3})+$)/g, marks[0]);
        return before + head + (tail ? marks[marks.length - 1] + tail : "") + after;
      },
    };
  };

  const rc = (row) => `RC ${String(row).padStart(3, "0")}`;
  const reading = (row, highest) => String(row).padStart(Math.max(3, String(highest).length), "0");
  const lasts = (minutes) => {
    const step = minutes < 60 ? 5 : 15;
    const told = Math.max(step, rounded(minutes / step) * step);
    const hours = Math.floor(told / 60);
    if (!hours) return tr("{minutes} min", { minutes: told });
    return told % 60 ? tr("{hours} h {minutes} min", { hours, minutes: told % 60 }) : tr("{hours} h", { hours });
  };
  const span = ([low, high]) => (lasts(low) === lasts(high) ? tr("about {amount}", { amount: lasts(low) })
    : tr("{low} to {high}", { low: lasts(low), high: lasts(high) }));

  // A message whose fields are parts: words, and [unit, value] where it is a measure.
  const within = (message, fields) => message.split(/\{(\w+)\}/)
    .flatMap((piece, at) => (at % 2 ? fields[piece] : piece ? [piece] : []));

  // A made-up size as words and measures.
  const sizeParts = (size) => {
    const { thickness, low } = size;
    const [width, high] = [[["cm", size.width]], [["cm", size.length]]];
    const ranges = low !== null && low !== undefined && rounded(low) < rounded(size.length);
    const length = ranges ? within(tr("{low} to {high}"), { low: [["cm", low]], high }) : high;
    let parts;
    if (size.across) parts = within(tr("{width} across"), { width });
    else if (size.around) parts = within(tr("{width} around, {length} high"), { width, length });
    else parts = within(tr("{width} wide, {length} long"), { width, length });
    return thickness ? within(tr("{size}, {thickness} thick"), { size: parts, thickness: [["cm", thickness]] }) : parts;
  };

  const costOf = (given, yarns, figures) => {
    const bought = yarns.map(({ best }) => best);
    const costs = bought.filter((one) => one && one.cost !== null);
    const currencies = new Set(bought.filter(Boolean).map(({ currency }) => currency || given.figures.currency));
    if (costs.length < bought.length || currencies.size !== 1) return null;
    return figures.price(sum(costs.map(({ cost }) => cost)), [...currencies][0]);
  };

  const fillingTold = (grams, weighed) => upTo(grams, weighed || grams < 100 ? 1 : 10 ** (Math.floor(Math.log10(grams)) - 1));
  const tools = { figuresOf, fillingTold, tasselsOf, rc, reading, span, sizeParts, costOf, rounded, upTo, isCut };

  document.addEventListener("stripewright:own", ({ detail }) => {
    detail.tools = tools;
    try {
      detail.worked = (detail.given.yarns ? work : workSizes)(detail.given, detail.change);
    } catch (fault) {
      if (!(fault instanceof Refused)) throw fault;
      detail.refused = fault.message;
    }
  });

  // ---- the page -----------------------------------------------------------------------------
  document.addEventListener("stripewright:numbers", ({ detail }) => start(detail), { once: true });

  const el = (tag, attributes, ...inside) => {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    made.append(...inside.filter((one) => one !== null && one !== ""));
    return made;
  };
  const draw = (tag, attributes, ...inside) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    made.append(...inside);
    return made;
  };
  const KINDS = { cm: "length", m: "distance", g: "mass" };

  // One size of the pattern as the page shows it; "" where there is but one.
  const sizeOnPage = (key, given) => {
    const figures = figuresOf(given.figures);
    const sized = !given.yarns; // a paid pattern's public page: sizes alone
    const further = key === "base" ? "" : key; // as steps and tables name it
    const measure = (unit, value) => el("span", { class: "measure", "data-kind": KINDS[unit],
      [`data-${unit}`]: String(Number(value.toPrecision(6))) }, figures[unit](value));
    const parted = (parts) => parts.map((part) => (Array.isArray(part) ? measure(...part) : part));

    // What stood there as designed: the very nodes, which other scripts know.
    const designed = new Map();
    const swap = (element, ...nodes) => {
      if (!element) return;
      if (!designed.has(element)) designed.set(element, [...element.childNodes]);
      element.replaceChildren(...nodes);
    };
    const instead = new Map(); // lists that are made anew, and what stood there
    const notes = [];
    const restore = () => {
      for (const [element, nodes] of designed) element.replaceChildren(...nodes);
      for (const [now, before] of instead) now.replaceWith(before);
      for (const one of notes) one.remove();
      designed.clear();
      instead.clear();
      notes.length = 0;
      banner.hidden = true;
    };
    const note = (after, text) => {
      if (!after) return;
      const made = el("p", { class: "own-note" }, text);
      notes.push(made);
      if (after.dataset.inSize) { // hidden with its size
        made.dataset.inSize = after.dataset.inSize;
        made.hidden = after.hidden;
      }
      after.after(made);
    };

    const chip = (letter, colour) => draw("svg", { class: "chip", viewBox: "0 0 24 24", width: 24, height: 24,
      "aria-hidden": "true", focusable: "false" },
    draw("rect", { class: `yarn-${letter.toLowerCase()}`, x: 1, y: 1, width: 22, height: 22, fill: colour }));

    const inSize = (one) => {
      const home = one.closest("[data-in-size]");
      return home ? home.dataset.inSize === (key || "base") : !further;
    };
    const every = (selector) => [...document.querySelectorAll(selector)].filter(inSize);

    const banner = el("div", { class: "own-banner", hidden: "" });
    const [glance] = every(".facts");
    const article = document.querySelector("article.pattern");
    if (glance) glance.prepend(banner);
    else if (article) article.prepend(banner);

    // ---- at a glance, materials
    const facts = (worked) => {
      const all = (name) => every(`[data-own="${name}"]`);
      const fact = (name, ...nodes) => all(name).forEach((element) => swap(element, ...nodes));
      all("size").forEach((element, at) => {
        const size = worked.finished[at];
        if (!size) return;
        swap(element, ...parted(sizeParts(size)), size.note ? " " : "",
          size.note ? el("span", { class: "note" }, `(${size.note})`) : "");
      });
      const [bed] = given.machine;
      fact("machine", bed === "flat" ? trn(worked.needles, "Flat bed, {number} needle", "Flat bed, {number} needles")
        : trn(worked.needles, "Circular bed, {number} needle", "Circular bed, {number} needles"));
      fact("gauge", figures.gauge(worked.gauge));
      if (given.fit && all("fits").length) {
        const girth = (worked.pieces.find(({ girthCm }) => girthCm !== null) || {}).girthCm;
        const message = girth ? tr("designed for a head of {head}; yours is {girth} around") : tr("designed for a head of {head}");
        fact("fits", ...parted(within(message, { head: [["cm", given.fit[0]]], girth: [["cm", girth]] })));
      }
      if (sized) return;
      fact("time", span(worked.time));
      all("yarn").forEach((element, at) => {
        const yarn = given.yarns[at];
        if (yarn) swap(element, chip(yarn.letter, yarn.colour), ` ${yarn.letter} `, measure("m", worked.yarns[at].length));
      });
      every("ul.materials > li").forEach((item, at) => {
        if (given.yarns[at] && item.dataset.letter === given.yarns[at].letter) material(item, worked.yarns[at]);
      });
      const supply = (name, ...amount) => {
        for (const element of every(`ul.supplies [data-own="${name}"]`)) swap(element, ...parted(within(tr("about {amount}"), { amount })));
      };
      if (worked.filling !== null) supply("filling", ["g", fillingTold(worked.filling, given.fill.weighed)]);
      supply("waste", ["m", upTo(worked.waste, 5)]);
      const cost = costOf(given, worked.yarns, figures);
      for (const element of every(".shopping > .cost")) swap(element, cost === null ? "" : tr("All yarn: {cost}", { cost }));
    };

    const buyParts = ({ balls, mass, metres, cost, currency }) => within(
      cost === null ? tr("{balls} of {mass}, {length} each") : tr("{balls} of {mass}, {length} each, {cost} in all"),
      { balls: [ballsWord(balls)], mass: [["g", mass]], length: [["m", metres]], cost: cost === null ? [] : [figures.price(cost, currency)] });

    const material = (item, { length, mass, estimated, best, choices }) => {
      const amount = item.querySelector(".amount");
      if (!amount) return;
      const kind = [...amount.children].find((one) => !one.querySelector(".measure")); // yarn class and fibre
      const line = (...parts) => [el("span", { class: "line" }, ...parted(parts)), " "];
      const lines = [];
      if (best) lines.push(...line(...buyParts(best)));
      for (const other of choices) if (other !== best) lines.push(...line(...within(tr("or {other}"), { other: buyParts(other) })));
      const plain = [["m", length], ...(mass === null ? [] : [", ", ["g", mass]])];
      const uses = estimated ? within(tr("about {amount}"), { amount: plain }) : plain;
      lines.push(...line(...within(tr("Uses {amount}"), { amount: uses }),
        ...(best && best.left ? within(tr("; left over: {amount}"), { amount: [["g", best.left]] }) : [])));
      if (kind) lines.push(kind.cloneNode(true));
      swap(amount, ...lines);
    };

    // ---- the plan
    const stopAt = (readings) => tr("stop at {readings}", { readings });
    const planTable = (piece, events, gauge) => {
      const [table] = every(`table.plan[data-piece="${piece.key}"]`);
      if (!table) return;
      const many = piece.make > 1 ? tr("{piece}, knit {number}", { piece: piece.title, number: piece.make }) : piece.title;
      swap(table.querySelector("caption"), `${many}: ${stitchesWord(piece.stitches)}, ${rowsWord(piece.worked)}`);
      const rows = [];
      const waiting = [...events];
      const told = ({ kind, row, until, times, number, title, text }) => {
        rows.push(el("tr", { class: "event", "data-event": kind, "data-at": row, "data-until": until === null ? "" : until,
          "data-times": times, "data-number": number, "data-title": title },
        el("th", { scope: "row", colspan: 2 }, title, " ", el("span", { class: "at" }, `RC ${reading(row, piece.worked)}`)),
        el("td", { colspan: 3 }, text)));
        const block = kind === "repeat_end" && piece.repeats.find(([first, stripes, repeats]) => piece.plan[first + stripes * repeats - 1].last === row);
        if (block) rows.push(again(piece, block));
      };
      const folded = new Set(piece.repeats.flatMap(([first, stripes, times]) =>
        Array.from({ length: stripes * (times - 1) }, (_, n) => first + stripes + n)));
      for (const [at, line] of piece.plan.entries()) {
        while (waiting.length && waiting[0].row < line.first) told(waiting.shift());
        const inside = [...new Set(waiting.filter(({ row }) => row < line.last).map(({ row }) => row))].map((row) => `RC ${reading(row, piece.worked)}`);
        const yarn = given.yarns[line.yarn];
        const stops = inside.length > 1 ? tr("{most} and {last}", { most: inside.slice(0, -1).join(", "), last: inside[inside.length - 1] }) : inside[0];
        if (!line.rows || folded.has(at)) continue;
        rows.push(el("tr", { "data-letter": yarn.letter, "data-yarn": yarn.name, "data-first": line.first, "data-last": line.last, "data-rows": line.rows },
          el("th", { scope: "row" }, chip(yarn.letter, yarn.colour), ` ${yarn.letter}`), el("td", {}, yarn.name + (stops ? `, ${stopAt(stops)}` : "")),
          el("td", { class: "figure" }, String(line.rows)), el("td", { class: "figure" }, line.last > line.first ? `${line.first}–${line.last}` : String(line.first)),
          el("td", { class: "figure" }, `RC ${reading(line.last, piece.worked)}`), el("td", { class: "tick", "aria-hidden": "true" }, el("span", { class: "box" }))));
      }
      waiting.forEach(told);
      swap(table.querySelector("tbody"), ...rows);
      const about = table.closest(".plan-box") && table.closest(".plan-box").nextElementSibling;
      if (about && about.matches(".plan-note")) swap(about, ...planNote(piece, gauge));
      const brim = about && about.nextElementSibling;
      if (piece.brim && brim && brim.matches("[data-own='brim']")) swap(brim, ...brimNote(piece));
    };

    // The further times of stripes that repeat, folded as the page has them.
    const again = (piece, [first, stripes, times]) => {
      const until = (line) => {
        const yarn = given.yarns[line.yarn];
        return el("span", { class: "until", "data-letter": yarn.letter, "data-yarn": yarn.name, "data-first": line.first,
          "data-last": line.last, "data-rows": line.rows }, chip(yarn.letter, yarn.colour), ` ${yarn.letter} ${reading(line.last, piece.worked)}`);
      };
      const body = Array.from({ length: times - 1 }, (_, n) => {
        const begin = first + stripes * (n + 1);
        return el("tr", {}, el("th", { scope: "row" }, String(n + 2)),
          el("td", {}, ...piece.plan.slice(begin, begin + stripes).flatMap((line) => [until(line), " "])),
          el("td", { class: "tick", "aria-hidden": "true" }, el("span", { class: "box" })));
      });
      const head = el("tr", {}, el("th", { scope: "col" }, tr("Repeat")), el("th", { scope: "col" }, tr("Knit each until RC")), el("td", { class: "tick", "aria-hidden": "true" }));
      return el("tr", { class: "again" }, el("td", { colspan: 6 }, el("details", {},
        el("summary", {}, tr("Readings of every change, repeat {first} to {last}", { first: 2, last: times })),
        el("table", {}, el("thead", {}, head), el("tbody", {}, ...body)))));
    };

    const listed = (names) => (names.length > 1 ? tr("{most} and {last}", { most: names.slice(0, -1).join(", "), last: names[names.length - 1] }) : names[0]);
    const brimNote = (piece) => {
      const stripes = piece.brim.bands.map(([yarn, rows]) => tr("{yarn} {rows}", { yarn: `${given.yarns[yarn].letter} (${given.yarns[yarn].name})`, rows: rowsWord(rows) }));
      const side = piece.brim.layers === 2 ? tr("the right side of the layer that lay inside") : tr("its wrong side");
      return parted(within(tr("With its brim turned up at {reading}, it is worn {length} high; the brim shows {side}, from its upper edge down: {stripes}"),
        { reading: [rc(piece.brim.turn)], length: [["cm", piece.upLength]], side: [side], stripes: [listed(stripes)] })).concat(".");
    };

    const planNote = (piece, gauge) => {
      const parts = [];
      if (piece.visible !== piece.worked) parts.push(tr("{visible} of the {worked} rows show once it is made up; the rest go into its ends.", piece), " ");
      parts.push(...within(tr("{width} wide when flat, {length} long"), { width: [["cm", piece.width]], length: [["cm", piece.lengthCm]] }), ".");
      if (piece.wished !== null) {
        const [across] = gauge;
        const least = Math.ceil(piece.wished * (piece.tube ? 2 : 1) * across - FUZZ);
        const panels = piece.tube ? 0 : Math.max(1, Math.ceil((piece.wished * across - 2) / Math.max(piece.stitches - 2, 1) - FUZZ));
        const message = panels ? tr("{width} wide takes at least {stitches}, or {panels} of {number}") : tr("{width} wide takes at least {stitches}");
        parts.push(" ", ...within(message, { width: [["cm", piece.wished]], stitches: [stitchesWord(least)],
          panels: [trn(panels, "{number} panel", "{number} panels")], number: [String(piece.stitches)] }), ".");
      }
      return parted(parts);
    };

    // ---- the steps
    const box = ({ key: name, piece, last, technique }) => {
      const made = el("input", { type: "checkbox", "data-step": further ? `${further}/${name}` : name });
      if (further) made.dataset.size = further;
      if (piece && (last || technique === "repeat_stripes")) made.dataset.piece = piece;
      if (piece && last) made.dataset.to = last;
      return made;
    };
    const idOf = (name) => `step-${further ? `${further}-` : ""}${name}`;
    let untold = 0;
    const stepItem = (one) => {
      const before = document.getElementById(idOf(one.key));
      let { text } = one;
      let lost = "";
      if (text === null) { // an author's own words ask for more than is known here: they stay
        const words = before && before.querySelector(".step-words");
        const title = words && words.querySelector(".step-title");
        text = words ? words.textContent.slice(title ? title.textContent.length : 0).trim() : "";
        lost = /\d/.test(text) || !text ? tr("The numbers of this step are as designed: go by the plan.") : "";
        if (lost) untold += 1;
      }
      const words = el("span", { class: "step-words" }, el("b", { class: "step-title" }, `${one.number}. ${one.title}`), ` ${text}`,
        lost && el("span", { class: "own-note" }, ` (${lost})`));
      const films = before ? [...before.querySelectorAll(":scope > .chapters")].map((list) => list.cloneNode(true)) : [];
      return el("li", { id: idOf(one.key) }, el("label", {}, box(one), " ", words), ...films);
    };
    const runItem = (run, films) => el("li", { class: "run" },
      el("p", {}, el("b", { class: "step-title" }, `${run.number}. ${run.title}`), ` ${run.text}`), ...films,
      el("details", {}, el("summary", {}, given.telling.said["Each stripe by itself"] || "Each stripe by itself"),
        el("ol", { class: "steps", start: run.steps[0].number }, ...run.steps.map(stepItem))));
    const steps = (groups) => {
      untold = 0;
      for (const { key: name, told } of groups) {
        const heading = document.getElementById(`${further ? `${further}-` : ""}group-${name}`);
        let list = heading && heading.nextElementSibling;
        while (list && !list.matches("ol.steps")) list = list.nextElementSibling;
        if (!list) continue;
        const films = [...list.querySelectorAll(":scope > .run")]
          .map((run) => [...run.querySelectorAll(":scope > .chapters")].map((one) => one.cloneNode(true)));
        const items = told.map((one) => (one.steps ? runItem(one, films.shift() || []) : stepItem(one)));
        const fresh = el("ol", { class: "steps", start: told.length ? (told[0].steps || told)[0].number : 1 }, ...items);
        list.replaceWith(fresh);
        instead.set(fresh, list);
      }
      return untold;
    };

    // ---- the schematics
    // Labels from the foot up, each as near to its stripe as the others and the drawing's edges allow.
    const spread = (wanted, least, most) => {
      const each = 13;
      const places = [];
      wanted.forEach((want, at) => places.push(Math.min(want, (at ? places[at - 1] : most + each) - each)));
      for (let at = places.length - 1, floor = least; at >= 0; at -= 1, floor += each) {
        if (places[at] >= floor) break;
        places[at] = floor;
      }
      return places;
    };
    const schematic = (piece) => {
      const [frame] = every(`figure[data-piece="${piece.key}"] .drawing-box`);
      if (!frame) return;
      const long = piece.workedCm;
      const scale = Math.min(110 / piece.width, 440 / long);
      const [w, h] = [piece.width * scale, long * scale];
      const tall = Math.max(h, piece.plan.length * 15);
      const [left, top] = [52, 30 + (tall - h) / 2];
      const y = (row) => top + h - (row / piece.worked) * h;
      const described = tr("Schematic of the {piece} for your machine: {width} wide and {length} long, {stitches} and {rows}; its stripes are in the plan.",
        { piece: piece.title.toLowerCase(), width: figures.cm(piece.width), length: figures.cm(piece.lengthCm), stitches: stitchesWord(piece.stitches), rows: rowsWord(piece.worked) });
      const svg = draw("svg", { class: "drawing", role: "img", viewBox: `0 0 340 ${Math.ceil(tall + 76)}`, width: 340,
        height: Math.ceil(tall + 76), "font-family": "system-ui, sans-serif", "font-size": 13, "aria-label": described });
      const bands = draw("g", { class: "bands" }); // as beside.js looks for the stripe to knit next
      const hatches = draw("g", { class: "hatch", visibility: "hidden" });
      const hatched = frame.querySelector("defs"); // the same yarns' as in the drawing that stood here
      if (hatched) svg.append(hatched.cloneNode(true));
      svg.append(bands, hatches);
      const lines = piece.plan.filter(({ rows }) => rows);
      const labels = spread(lines.map((line) => (y(line.last) + y(line.first - 1)) / 2 + 4), 24, tall + 30);
      lines.forEach((line, at) => {
        const yarn = given.yarns[line.yarn];
        const [upper, lower] = [y(line.last), y(line.first - 1)];
        const told = [left, upper, w, lower - upper].map((one) => one.toFixed(2));
        bands.append(draw("path", { class: `yarn-${yarn.letter.toLowerCase()}`, d: `M${told[0]} ${told[1]}h${told[2]}v${told[3]}h-${told[2]}z`,
          fill: yarn.colour, "shape-rendering": "crispEdges" }));
        const hatch = svg.querySelector(`defs [id$="-h-${yarn.letter.toLowerCase()}"]`);
        if (hatch) hatches.append(draw("path", { d: `M${told[0]} ${told[1]}h${told[2]}v${told[3]}h-${told[2]}z`, fill: `url(#${hatch.id})` }));
        const want = labels[at];
        svg.append(draw("path", { d: `M${left + w} ${(upper + lower) / 2}L${left + w + 16} ${want - 4}`, class: "ink-line", fill: "none", stroke: "#22252a", "stroke-width": 0.6 }),
          draw("text", { x: left + w + 20, y: want, class: "ink", fill: "#22252a" }, `${yarn.letter} ${rowsWord(line.rows)} · ${rc(line.last)}`));
      });
      svg.append(draw("rect", { x: left, y: top, width: w, height: h, class: "ink-line", fill: "none", stroke: "#22252a", "stroke-width": 1.2 }));
      const turns = { fold: tr("fold"), hem: tr("hem"), turn_up: tr("brim") };
      for (const { kind, row } of piece.events.filter((event) => event.kind in turns)) {
        svg.append(draw("path", { d: `M${left - 8} ${y(row)}h${w + 16}`, class: "ink-line", fill: "none", stroke: "#22252a", "stroke-width": 1.2, "stroke-dasharray": "6 4" }),
          draw("text", { x: left - 4, y: y(row) - 4, class: "ink", fill: "#22252a", "text-anchor": "end" }, turns[kind]));
      }
      const label = (cm) => figures.cm(cm).replace(" (", " · ").replace(")", "");
      svg.append(draw("text", { x: left + w / 2, y: tall + 54, class: "ink", fill: "#22252a", "text-anchor": "middle" }, label(piece.width)),
        draw("text", { transform: `translate(14 ${top + h / 2}) rotate(-90)`, class: "ink", fill: "#22252a", "text-anchor": "middle" }, label(piece.lengthCm)),
        draw("text", { x: left + w / 2, y: tall + 70, class: "ink", fill: "#22252a", "text-anchor": "middle" }, `${stitchesWord(piece.stitches)}, ${rowsWord(piece.worked)}`));
      swap(frame, svg);
    };

    // ---- all of it
    // The assembly has the numbers of the steps: each step is found again by its title.
    const making = () => every("ol.steps > li[id*='making-up.'] .step-title").map(({ textContent }) => {
      const at = textContent.indexOf(". ");
      return [textContent.slice(0, at), textContent.slice(at + 2)];
    });
    const renumber = (before) => {
      const [assembly] = every("figure.plate.wide");
      const after = making();
      if (!assembly || String(after) === String(before)) return;
      const numbers = new Map();
      for (const [number, title] of before) {
        const at = after.findIndex(([, now]) => now === title);
        if (at >= 0) numbers.set(number, [after.splice(at, 1)[0][0], title]);
      }
      for (const text of assembly.querySelectorAll("svg text")) {
        const now = numbers.get(text.textContent);
        if (now) swap(text, now[0]);
      }
      const said = assembly.querySelector("svg desc");
      if (said) swap(said, [...numbers].reduce((told, [number, [now, title]]) => told.replace(`${number}. ${title}`, () => `${now}. ${title}`), said.textContent));
    };
    const apply = (change, asDesigned) => {
      restore();
      const detail = ask(given, change);
      if (detail.refused) return detail.refused;
      const { worked } = detail;
      let left = 0;
      if (!sized) {
        document.dispatchEvent(new CustomEvent("stripewright:own-steps", { detail }));
        if (!detail.told) return tr("This page can't tell its steps anew."); // a theme's own, without own-steps.js
        const before = making();
        left = steps(detail.told.groups);
        worked.pieces.forEach((piece) => planTable(piece, detail.told.events.get(piece.key), worked.gauge));
        worked.pieces.forEach(schematic);
        renumber(before);
      }
      facts(worked);
      for (const prose of every(".pattern > .prose, .pattern > .size > .prose")) {
        if (/\d/.test(prose.textContent)) note(prose, tr("These words tell the numbers as designed."));
      }
      if (sized) note(document.querySelector(".size-choice"), tr("These sizes are as designed."));
      for (const group of every("section.colourways > :is(h2, h3)")) note(group, tr("Yarn and cost of these are as designed."));
      const stays = sized ? tr("Only about right, from whole centimetres: the rows come with the pattern. The pictures and the balls to buy are as designed.")
        : tr("The picture, the drawing of the making up and the PDFs are as designed.");
      const now = tr("{needles}, {gauge}, keeping {kept}.", { needles: needlesWord(worked.needles), gauge: figures.gauge(worked.gauge), kept: KEEP[change.keep] });
      banner.replaceChildren(el("p", {}, el("b", {}, tr("Worked for your machine:")), " ", `${now} ${stays}`),
        ...worked.notes.map((text) => el("p", {}, text)),
        ...(left ? [el("p", {}, trn(left, "{number} step can't be told anew and is marked.", "{number} steps can't be told anew and are marked."))] : []),
        press(tr("As designed"), asDesigned));
      banner.hidden = false;
      return "";
    };
    const refuse = (why) => {
      restore();
      banner.replaceChildren(el("p", {}, el("b", {}, tr("This size is as designed:")), " ", why));
      banner.hidden = false;
    };
    return { key, given, apply, refuse, restore };
  };

  const ask = (given, change) => {
    const detail = { given, change, tools };
    document.dispatchEvent(new CustomEvent("stripewright:own", { detail }));
    return detail;
  };
  const KEEP = { rows: tr("the rows of each stripe"), size: tr("the finished size"), proportions: tr("the proportions") };

  const press = (text, act) => {
    const made = el("button", { type: "button" }, text);
    made.addEventListener("click", act);
    return made;
  };

  const start = (given) => {
    const place = document.querySelector('[data-tool="own-machine"]');
    const box = place && place.querySelector("details > div");
    if (!box) return;
    const slug = document.body.dataset.slug;
    const figures = figuresOf(given.figures);
    // A reader's machine is one: each size is worked for it, and the page shows the one chosen.
    const further = Object.entries(given.sizes || {})
      .filter(([key]) => document.querySelector(`.size[data-in-size="${CSS.escape(key)}"]`));
    const sizes = [sizeOnPage(further.length ? "base" : "", given),
      ...further.map(([key, more]) => sizeOnPage(key, { ...given, ...more }))];
    const shown = () => sizes.find(({ key }) => key === document.body.dataset.size) || sizes[0];
    const bedOf = ({ given: { machine } }) => machine[1];

    // ---- the form
    const field = (label, attributes) => {
      const input = el("input", { inputmode: "decimal", autocomplete: "off", ...attributes });
      return { input, name: el("span", {}, label), wrap: null };
    };
    const fields = {
      needles: field(tr("Needles"), { inputmode: "numeric", name: "needles" }),
      stitches: field("", { name: "stitches" }),
      rows: field("", { name: "rows" }),
      swatch_stitches: field(tr("Stitches of a swatch"), { name: "swatch-stitches" }),
      swatch_rows: field(tr("Rows of a swatch"), { name: "swatch-rows" }),
      swatch_width: field("", { name: "swatch-width" }),
      swatch_length: field("", { name: "swatch-length" }),
    };
    for (const one of Object.values(fields)) one.wrap = el("label", {}, one.name, one.input);
    const choose = (name, label, options) => {
      const select = el("select", { name, "aria-label": label });
      for (const [value, text] of options) select.add(new Option(text, value));
      return { select, wrap: el("label", {}, label, select) };
    };
    const over = choose("over", tr("Counted over"), [["10", "10 cm"], ["10.16", "4 in"]]);
    const keep = choose("keep", tr("Keep"), [["rows", tr("rows as they are")], ["size", tr("finished size")], ["proportions", tr("proportions")]]);
    over.select.value = figures.imperial ? "10.16" : "10";
    const said = el("p", { role: "status", class: "own-said" });
    const address = el("input", { readonly: "", "aria-label": tr("Address of this pattern for your machine"), hidden: "" });

    const number = (input) => (input.value.trim() === "" ? null : Number(input.value.trim().replace(",", ".")));
    const label = () => {
      const inch = over.select.value !== "10";
      const length = inch ? "4 in" : "10 cm";
      const unit = inch ? "in" : "cm";
      fields.stitches.name.textContent = tr("Stitches in {length}", { length });
      fields.rows.name.textContent = tr("Rows in {length}", { length });
      fields.swatch_width.name.textContent = tr("Width of a swatch in {unit}", { unit });
      fields.swatch_length.name.textContent = tr("Length of a swatch in {unit}", { unit });
    };
    const shownGauge = ([across, along]) => {
      const length = Number(over.select.value);
      fields.stitches.input.value = String(rounded(across * length, 1));
      fields.rows.input.value = String(rounded(along * length, 1));
    };

    let gauge = null; // stitches and rows to 1 cm, unrounded; null as designed
    let needles = null; // as typed; null as designed, in each size its own
    const fill = (change) => {
      ({ gauge, needles } = change);
      fields.needles.input.value = String(needles || bedOf(shown()));
      keep.select.value = change.keep;
      shownGauge(gauge || shown().given.gauge);
    };

    const readGauge = () => {
      const length = Number(over.select.value);
      const found = [number(fields.stitches.input), number(fields.rows.input)];
      if (found.includes(null)) return null;
      return found.map((count) => count / length);
    };
    const readSwatch = () => {
      const found = ["stitches", "rows", "width", "length"].map((name) => number(fields[`swatch_${name}`].input));
      if (found.includes(null)) return null;
      const per = over.select.value === "10" ? 1 : 2.54;
      return [found[0] / (found[2] * per), found[1] / (found[3] * per)];
    };

    const changeNow = () => ({ needles, gauge, keep: keep.select.value });
    const other = (change, size) => change.gauge !== null || (change.needles !== null && change.needles !== bedOf(size));

    // needles~stitches~rows~keep, the gauge to 1 cm as it was worked out: the same numbers there.
    const written = ({ needles: bed, gauge: per, keep: what }) => [bed || "", ...(per || ["", ""]), what].join("~");
    const readBack = (text) => {
      const [bed, across, along, what] = (text || "").split("~");
      if (!(what in KEEP)) return null;
      return { needles: bed ? Number(bed) : null, gauge: across && along ? [Number(across), Number(along)] : null, keep: what };
    };
    const hash = (text) => {
      const colours = new URLSearchParams(location.hash.slice(1)).get("colours");
      const size = further.length ? shown().key : "";
      const parts = [text ? `own=${text}` : "", size ? `size=${encodeURIComponent(size)}` : "", colours ? `colours=${colours}` : ""].filter(Boolean);
      return parts.length ? `#${parts.join("&")}` : "";
    };
    const keepThis = (text) => {
      document.kept.set(`own/${slug}`, text || undefined);
      history.replaceState(null, "", hash(text) || location.pathname + location.search);
    };

    let working = false;
    const asDesigned = () => {
      working = false;
      for (const size of sizes) size.restore();
      for (const name of Object.keys(fields)) if (name.startsWith("swatch")) fields[name].input.value = "";
      fill({ needles: null, gauge: null, keep: keep.select.value });
      keepThis("");
      said.textContent = tr("As designed.");
      document.dispatchEvent(new Event("stripewright:changed"));
      fields.needles.input.focus();
    };

    const workNow = (change) => {
      const wrong = Number.isNaN(change.needles) ? tr("Needles: write a whole number.") : ask(shown().given, change).refused;
      if (wrong) {
        said.textContent = wrong;
        return;
      }
      said.textContent = tr("Worked anew: plan, steps, materials and sizes are now yours.");
      for (const size of sizes) {
        const refused = other(change, size) ? size.apply(change, asDesigned) : size.restore();
        if (refused) size.refuse(refused);
        if (refused && size === shown()) said.textContent = refused;
      }
      working = true;
      document.dispatchEvent(new Event("stripewright:changed"));
      keepThis(written(change));
    };

    const form = el("form", { class: "own-machine" },
      el("div", { class: "tool-fields" }, fields.needles.wrap, over.wrap, fields.stitches.wrap, fields.rows.wrap, keep.wrap),
      el("details", {}, el("summary", {}, tr("From a swatch")),
        el("div", { class: "tool-fields" }, ...Object.entries(fields).filter(([name]) => name.startsWith("swatch")).map(([, one]) => one.wrap))),
      el("div", { class: "tool-line" }, el("button", { class: "tool-main" }, tr("Work it out")), press(tr("As designed"), asDesigned),
        press(tr("Copy address"), async () => {
          address.value = location.href.split("#")[0] + hash(other(changeNow(), shown()) ? written(changeNow()) : "");
          try {
            await navigator.clipboard.writeText(address.value);
            said.textContent = tr("Address copied.");
          } catch {
            address.hidden = false; // not allowed, or no clipboard here: the reader copies it by hand
            address.select();
          }
        })),
      address, said);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const change = changeNow();
      if (other(change, shown())) workNow(change);
      else if (working) asDesigned();
      else said.textContent = tr("These are the needles and the gauge that it was designed for.");
    });
    fields.needles.input.addEventListener("input", () => {
      needles = number(fields.needles.input);
      if (!further.length && needles === bedOf(shown())) needles = null;
    });
    for (const name of ["stitches", "rows"]) {
      fields[name].input.addEventListener("input", () => {
        gauge = readGauge();
      });
    }
    for (const [name, one] of Object.entries(fields)) {
      if (name.startsWith("swatch")) one.input.addEventListener("input", () => {
        const found = readSwatch();
        if (found && found.every((count) => count > 0 && Number.isFinite(count))) {
          gauge = found;
          shownGauge(found);
        }
      });
    }
    over.select.addEventListener("change", () => {
      label();
      shownGauge(gauge || shown().given.gauge);
    });
    document.addEventListener("size", () => {
      fill(changeNow());
      if (working) keepThis(written(changeNow()));
    });
    label();
    const asked = readBack(new URLSearchParams(location.hash.slice(1)).get("own")) || readBack(document.kept.get(`own/${slug}`));
    fill(asked || { needles: null, gauge: null, keep: "rows" });
    box.replaceChildren(form);
    if (asked && sizes.some((size) => other(asked, size))) workNow(asked);
  };
})();
