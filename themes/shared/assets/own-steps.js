// The steps for a reader's own machine, as words/steps.py, words/tasks.py, words/making_up.py and
// view/runs.py tell them, name by name. The texts of the techniques come as data (words/as_data.py),
// in the page's own locale, and are filled in anew: no word on the page is looked for.
// Who wants them sends "stripewright:own-steps" with what own-machine.js worked, and reads
// detail.told: of each piece its events, and the groups of steps.
(() => {
  "use strict";

  const { trn } = document.words;
  const rc = (row) => `RC ${row < 0 ? `-${String(-row).padStart(2, "0")}` : String(row).padStart(3, "0")}`;
  const small = (title) => (/\p{Lu}/u.test(title[1] || "") ? title : title.slice(0, 1).toLowerCase() + title.slice(1));
  const capital = (title) => title.slice(0, 1).toUpperCase() + title.slice(1);
  const distinct = (list) => [...new Set(list)];

  // ---- a text from its data ---------------------------------------------------------------------
  const SIGNS = {
    "==": (a, b) => a === b, "!=": (a, b) => a !== b, ">": (a, b) => a > b, ">=": (a, b) => a >= b,
    "<": (a, b) => a < b, "<=": (a, b) => a <= b,
  };
  const SUMS = { "+": (a, b) => a + b, "-": (a, b) => a - b, "*": (a, b) => a * b, "%": (a, b) => a % b };
  const LETTERS = {
    sentence: (text) => capital(text.toLowerCase()), capital,
    upper: (text) => text.toUpperCase(), lower: (text) => text.toLowerCase(),
  };

  class Unknown extends Error {} // an author's own text asks for what isn't known here

  const valueOf = (data, facts) => {
    const [kind, one, two, three] = data;
    const of = (part) => valueOf(part, facts);
    if (kind === "name") {
      if (!(one in facts)) throw new Unknown(one);
      return facts[one];
    }
    if (kind === "is") return one;
    if (kind === "not") return !of(one);
    if (kind === "and") return of(one) && of(two);
    if (kind === "or") return of(one) || of(two);
    if (kind === "either") return of(one) ? of(two) : of(three);
    if (kind in LETTERS) return LETTERS[kind](String(of(one)));
    if (kind in SUMS) return SUMS[kind](of(one), of(two));
    let left = of(one);
    return two.every(([sign, other]) => {
      const right = of(other);
      const holds = SIGNS[sign](left, right);
      left = right;
      return holds;
    });
  };
  const written = (parts, facts) => parts.map((part) => {
    if (typeof part === "string") return part;
    const [kind, one, two] = part;
    if (kind === "=") return String(valueOf(one, facts));
    const [, chosen] = one.find(([test]) => valueOf(test, facts)) || ["", two];
    return written(chosen, facts);
  }).join("");
  const filledIn = (parts, facts) => written(parts, facts).trim().replace(/\s+/g, " ");

  // ---- everything of one pattern, or one size of it -----------------------------------------------
  const ON_THE_WAY = new Set(["slit", "gap", "hem", "fold", "turn_up", "join"]);
  const FEWEST = 4; // stripes in a row that are told as one

  const tellAll = ({ given, worked, tools }) => {
    const { telling, steps: about } = given;
    const { texts, edges, known } = telling;
    const { pieces, tails } = worked;
    const figures = tools.figuresOf(given.figures);
    const say = (message, fields = {}) => (telling.said[message] || message)
      .replace(/\{(\w+)\}/g, (all, name) => (name in fields ? fields[name] : all));
    const the = (title) => (/^\d/.test(title) || title.toLowerCase().startsWith("the ") ? small(title)
      : say("the {piece}", { piece: small(title) }));
    const listed = (names) => (names.length > 1
      ? say("{most} and {last}", { most: names.slice(0, -1).join(", "), last: names[names.length - 1] }) : names[0] || "");
    const yarnOf = (number) => given.yarns[number];
    const pieceOf = (key) => pieces.find((piece) => piece.key === key);
    const tail = (key) => figures.cut(tails.has(key) ? tails.get(key) : tails.get("inside"));

    // ---- what follows from a piece's numbers
    const machineOf = (piece) => {
      const machine = about.pieces[piece.key];
      return piece.bed === null ? { ...machine, needles: worked.needles } : machine;
    };
    const isDeep = (end) => end.edge === "hemmed" && end.rows >= telling.deep;
    const inside = (piece) => {
      if (piece.folded === null || (piece.form === "panel" && piece.sides === "seamed")) return "";
      return 2 * piece.folded <= piece.visible ? "first" : "last";
    };
    const goesIn = (piece) => {
      if (piece.fold === null) return "";
      return inside(piece) === "last" ? say("last {rows}", { rows: piece.worked - piece.fold })
        : say("first {rows}", { rows: piece.fold });
    };
    const changesOf = (piece) => piece.plan.slice(1).filter(({ rows }) => rows).map(({ first }) => first - 1);
    const underHem = (piece) => {
      const [first, last] = piece.ends.map((end) => (end.edge === "hemmed" ? end.rows : 0));
      return changesOf(piece).filter((row) => row < 2 * first || row > piece.worked - 2 * last);
    };
    const madeBefore = (piece, at) => (at === 0 ? piece.ends[0].grafted : 0);
    const madeAfter = (piece, at) => (at === piece.plan.length - 1 ? piece.ends[1].grafted : 0);

    // ---- a technique's words
    const written0 = (name, facts) => filledIn(texts[name][1], { ...known, ...facts });
    const titled = (name, facts) => filledIn(texts[name][0], { ...known, ...facts });
    let number = 0;
    const step = (technique, key, facts, more = {}) => {
      const everything = { ...known, ...facts };
      number += 1;
      const made = { number, key, title: filledIn(texts[technique][0], everything), text: null,
        technique, piece: null, last: null, change: null, ...more };
      delete made.note;
      try {
        if (texts[technique][1]) made.text = `${filledIn(texts[technique][1], everything)} ${more.note || ""}`.trim();
      } catch (fault) {
        if (!(fault instanceof Unknown)) throw fault;
      }
      return made;
    };

    // ---- what happens along a piece
    const SIDES = telling.where;
    const turnOf = (piece, event) => {
      const needle = machineOf(piece).counter_at;
      const sides = piece.openings.map(({ side }) => side).filter((side) => side !== "both");
      const opposite = (event.side === "left" || event.side === "right") && sides.length && sides[0] !== event.side;
      return opposite ? say("the needle half way round from {needle}", { needle }) : needle;
    };
    const repeated = (piece, event) => {
      for (const [first, stripes, times] of piece.repeats) {
        const begin = piece.plan[first];
        const last = piece.plan[first + stripes - 1];
        const end = piece.plan[first + stripes * times - 1];
        if ((event.kind === "repeat" && event.row === begin.first - 1) ||
          (event.kind === "repeat_end" && event.row === end.last)) return `${begin.first}–${last.last}`;
      }
      return "";
    };
    const eventFacts = (piece, event) => {
      const last = event.until || event.row;
      const side = SIDES[event.side];
      return {
        what: event.kind === "join" ? the(pieceOf(event.what).title) : event.what, side: event.side, form: piece.form,
        letter: event.kind === "graft" ? yarnOf(event.what).letter : "",
        at: rc(event.row), until: rc(last), rows: last - event.row, number: event.number, times: event.times,
        repeated: repeated(piece, event), turn: turnOf(piece, event), goes_in: goesIn(piece),
        where: side ? side[piece.form === "panel" ? 1 : 0] : "",
      };
    };
    const toldEvents = (piece) => piece.events.map((event) => {
      const facts = eventFacts(piece, event);
      const name = `at_${event.kind}`;
      return { ...event, title: titled(name, facts), text: texts[name][1] ? written0(name, facts) : "" };
    });

    // ---- one piece on the machine
    const toldBefore = new Map(); // what is told in full once, and where that was
    const knit = (piece) => {
      const machine = machineOf(piece);
      const tube = piece.form === "tube";
      const { plan } = piece;
      const waste = known.waste_rows;
      const facts = {
        piece: small(piece.title), stitches: piece.stitches, make: piece.make, bed: machine.bed,
        needles: machine.needles, every: machine.every, form: piece.form, counter_at: machine.counter_at,
        stop: tube ? say("at {needle}, where the counter trips", { needle: machine.counter_at }) : say("at the end of the row"),
        round: tube ? say("round") : say("row"), where: tube ? say("inside") : say("at the edge"),
        stripes: plan.length,
      };
      const found = [];
      const add = (technique, name, more, line = null) => found.push(step(technique, `${piece.key}.${name}`,
        { ...facts, ...more }, { piece: piece.key, last: line && line.last }));
      const firstTime = (...what) => {
        const key = what.join("/");
        const before = toldBefore.get(key) || "";
        if (!toldBefore.has(key)) toldBefore.set(key, the(piece.title));
        return before;
      };
      const of = (line) => {
        const yarn = yarnOf(line.yarn);
        return { letter: yarn.letter, yarn: yarn.name, first: line.first, last: line.last, rows: line.rows,
          until: rc(line.last),
          held: yarn.strands > 1 ? say(", {number} strands held together", { number: yarn.strands }) : "" };
      };
      const longTail = (which) => {
        const key = `${piece.key}.${which}`;
        const both = piece.ends.every(({ edge }) => edge === "grafted");
        const { edge } = piece.ends[which === "last" ? 1 : 0];
        const tailFor = both ? telling.graft_for : edges[edge].tail_for;
        return { tail: tail(key), tail_for: tails.has(key) ? tailFor : "" };
      };

      const setUp = (line) => {
        const like = firstTime("set_up", machine.bed, piece.form);
        const beds = distinct(pieces.map((one) => `${machineOf(one).bed} ${machineOf(one).needles}`));
        const cover = piece.lining === null ? null : pieceOf(piece.lining);
        add("set_up", "set-up", { ...of(line), setting: worked.gauged ? "" : about.setting, hold: machine.hold, like,
          beds: beds.length, shorter: cover ? Math.max(cover.visible - piece.visible, 0) : 0 });
      };
      const strands = () => {
        for (const key of distinct(plan.map(({ yarn }) => yarn))) {
          const yarn = yarnOf(key);
          const several = Math.max(yarn.strands, yarn.marl.length);
          if (several < 2 || firstTime("strands", key)) continue;
          add("hold_together", `strands-${yarn.key}`, { letter: yarn.letter, yarn: yarn.name, strands: several,
            of: yarn.marl.length ? listed(yarn.marl.map((one) => yarnOf(one).name)) : "" });
        }
      };
      const changeAt = (at) => {
        const line = plan[at];
        const old = plan[Math.max(at - 1, 0)];
        const following = plan.slice(at + 1).find(({ yarn }) => yarn === old.yarn);
        const keeps = Boolean(following && following.carried);
        const change = { ...of(line), old: yarnOf(old.yarn).letter, keeps, kept: keeps, change: "", at: rc(old.last),
          knot: about.knot === "at once" };
        if (at === 0 || !line.rows) return [change, false];
        if (line.carried) return [{ ...change, change: "carried" }, false];
        const told = firstTime("change", piece.form);
        const key = `kept/${piece.form}`;
        if (!toldBefore.has(key)) toldBefore.set(key, keeps);
        return [{ ...change, until: rc(told ? line.last : old.last), tail: tail("inside"),
          change: told === the(piece.title) ? say("the first change") : say("the first change of {piece}", { piece: told }),
          kept: toldBefore.get(key) }, !told];
      };
      const event = (one, line, now) => {
        const atTheEnd = one.row === line.last && line === plan[plan.length - 1];
        if (!(line.first - 1 <= one.row && one.row < line.last) && !atTheEnd) return;
        if (one.kind === "slit" || one.kind === "gap") {
          if (!now) opening(one, line);
          return;
        }
        if (now !== (one.row === line.first - 1)) return;
        const marked = { until: rc(one.row), now };
        if (one.kind === "fold") add("mark_fold", "fold", marked);
        else if (one.kind === "hem") add("mark_hem", `hem-${one.side}`, marked);
        else if (one.kind === "turn_up") add("mark_turn_up", "turn-up", { ...marked, rows: one.number });
        else add("mark_join", `join-${one.what}`, { ...marked, what: the(pieceOf(one.what).title) });
      };
      const opening = (one, line) => add(tube ? "slit" : "gap", `opening-${one.number}`, {
        ...eventFacts(piece, one), first: one.row + 1, last: one.until, from_until: rc(one.row),
        both: one.side === "both", mirrored: pieces.filter(({ openings }) => openings.length).length > 1,
        hands: given.kind === "wrist warmers", crosses: (one.until || 0) > line.last,
      });
      const seen = () => {
        const { brim } = piece;
        const hemmed = brim && brim.layers === 2 && piece.fold === null ? brim : null;
        const of = (end) => (hemmed && hemmed.end === end ? hemmed.rows : 0);
        return { seen_first: of(0), seen_last: of(1) };
      };
      const stripe = (at) => {
        const line = plan[at];
        const done = piece.events.filter(({ kind }) => ON_THE_WAY.has(kind));
        for (const one of done) event(one, line, true);
        let [change, inFull] = changeAt(at);
        if (inFull) {
          add("change", "change", change);
          change = { ...change, change: "", until: rc(line.last) };
          if (about.jogs && tube) add("soften_jog", "jog", change);
        }
        for (const one of done) event(one, line, false);
        const [first, last] = piece.ends;
        const [made, makes] = [madeBefore(piece, at), madeAfter(piece, at)];
        add("stripe", String(at + 1), { ...change, stripe: at + 1, tail: tail("inside"), grafted_first: made,
          grafted_last: makes, before: line.before, ...seen(), before_for: first.rows ? edges[first.edge].takes_up : "",
          after: line.after, after_for: edges[last.edge].takes_up }, line);
        const own = !line.rows || line.carried || change.kept !== change.keeps || made || makes || line.before || line.after;
        if (!own) found[found.length - 1].change = change.change;
      };
      const repeat = ([first, stripes, times]) => {
        const end = plan[first + stripes * times - 1];
        const readings = plan.slice(first + stripes - 1, first + stripes * times - 1).map(({ last }) => rc(last));
        add("repeat_stripes", `repeat-${first + 1}`, { first: plan[first].first, last: plan[first + stripes - 1].last,
          times, more: times - 1, stripes, until: rc(end.last), from: say("stripe {number}", { number: first + 1 }),
          changes: readings.length <= telling.few ? listed(readings) : "" });
      };

      const begun = plan.find(({ rows }) => rows) || plan[0];
      setUp(begun);
      strands();
      add("set_counter", "counter", { ...of(begun), ...longTail("first") });
      const blocks = new Map(piece.repeats.map((block) => [block[0] + block[1], block]));
      for (let at = 0; at < plan.length;) {
        stripe(at);
        at += 1;
        const block = blocks.get(at);
        if (!block) continue;
        repeat(block);
        at = block[0] + block[1] * block[2];
      }
      add("take_off", "take-off", { ...of(plan[plan.length - 1]), ...longTail("last"), edge: piece.ends[1].edge });
      if (piece.make > 1) add("again", "again", {});
      return { key: piece.key, title: piece.title, steps: found, waste };
    };

    // ---- making up: the order
    const task = (technique, of = [], end = "", note = "") => ({ do: technique, pieces: of, end, note });
    const live = (piece, at) => about.pieces[piece.key].live[at];
    const shut = (piece) => (piece.form === "tube" || (piece.sides === "seamed" && piece.fold === null)) &&
      piece.ends.every(({ edge }) => edge !== "open" && edge !== "hemmed");
    const layered = (piece) => piece.form === "tube" && piece.fold !== null;
    const sewnTo = (piece) => {
      if (piece.attach) return piece.attach[0];
      const first = pieces.find(({ lining }) => lining === null);
      const handle = telling.handles.some((word) => piece.key.split("_").includes(word));
      return handle && piece.key !== first.key && piece.lining === null ? first.key : "";
    };
    const tied = (of) => {
      const several = of.filter((piece) => changesOf(piece).length);
      return about.knot === "later" && several.length ? [task("tie_tails", several)] : [];
    };
    const begunFilled = (piece) => {
      const found = [];
      if (piece.form === "panel") {
        if (piece.fold !== null) found.push(task("fold", [piece]));
        if (piece.sides === "seamed" || piece.fold !== null) found.push(task("seam_sides", [piece]));
        if (piece.fold !== null) return found;
      }
      const bare = piece.ends.map(({ edge }) => piece.lining !== null && edge === "open");
      const edge = edges[piece.ends[0].edge];
      found.push(task(bare[0] ? "finish_edge" : edge.closing ? edge.finishing : "seam_end", [piece],
        bare[0] && bare[1] ? "both" : "first"));
      if (!bare[0] && bare[1]) found.push(task("finish_edge", [piece], "last"));
      return found;
    };
    const filledTasks = (piece, lining) => {
      const both = lining ? [piece, lining] : [piece];
      const outwards = [...both].reverse();
      const found = [...tied([piece])];
      if (piece.ring) {
        if (lining) found.push(task("line_ring", [lining, piece]));
        found.push(...outwards.map((one) => task("graft_part", [one])), task("fill", both.slice(-1)),
          ...outwards.map((one) => task("close_ring", [one])));
        return found;
      }
      found.push(...both.flatMap(begunFilled));
      if (lining) found.push(task("line", [lining, piece]));
      found.push(task("fill", both.slice(-1)));
      for (const one of outwards) {
        if (one.form === "panel" && one.fold !== null) found.push(task("close_edges", [one]));
        else if (one.lining === null || one.ends[1].edge !== "open") {
          found.push(task(edges[one.ends[1].edge].closing || "close_seam", [one], "last"));
        }
      }
      return found;
    };
    const endTasks = (of) => {
      const [piece] = of;
      const [first, last] = piece.ends.map(({ edge }) => edge);
      const flat = piece.form === "panel" && piece.sides !== "seamed";
      const lives = live(piece, 0);
      if (first === "grafted" && last === "grafted") return [task("graft", of)];
      if (flat && first === "seamed" && last === "seamed") return [task("seam_ends", of)];
      if (first === last && lives) return [task(edges[first].finishing, of, "both")];
      return [[first, "first"], [last, "last"]]
        .filter(([edge]) => (lives || edge !== "open") && (edge !== "grafted" || piece.girthCm !== null))
        .map(([edge, end]) => task(edges[edge].finishing, of, end));
    };
    const plainTasks = (of) => {
      const [piece] = of;
      const found = [];
      const [first, last] = piece.ends.map(({ edge }) => edge);
      const sidesFirst = piece.sides === "seamed" && piece.fold === null && (edges[first].closing || edges[last].closing);
      if (shut(piece) || (piece.form === "tube" && piece.fringe)) found.push(...tied(of));
      if (sidesFirst) found.push(task("seam_sides", of));
      if (piece.ends.some(isDeep) && piece.girthCm && underHem(piece).length) found.push(task("weave_under", of));
      const bag = piece.form === "panel" && piece.fold !== null && first === "seamed" && last === "seamed";
      if (!bag) found.push(...endTasks(of));
      if (layered(piece) && first !== "grafted" && last !== "grafted") {
        if (!shut(piece)) found.push(task("weave_in", of));
        found.push(task(shut(piece) ? "fold_layers" : "tuck_layers", of));
      } else if (piece.fold !== null) found.push(task("fold", of));
      if (piece.sides === "seamed" && !sidesFirst) found.push(task("seam_sides", of));
      if (bag) found.push(task("seam_ends", of));
      return found;
    };
    const alike = (of, linings) => {
      const groups = new Map();
      for (const piece of of) {
        const [first, last] = piece.ends;
        const same = first.edge === last.edge && first.rows === last.rows;
        const toEachOther = same && (first.edge === "grafted" || first.edge === "seamed");
        const alone = piece.fold !== null || piece.sides === "seamed" || linings.has(piece.key) ||
          piece.ends.some(isDeep) || (toEachOther && (piece.form === "panel" || piece.ring));
        const key = alone ? `=${piece.key}` : JSON.stringify([piece.form, piece.ends.map(({ edge, rows }) => [edge, rows])]);
        groups.set(key, [...(groups.get(key) || []), piece]);
      }
      return [...groups.values()];
    };
    const joinedTasks = (covers) => {
      const found = [];
      const panels = covers.filter(({ sides }) => sides === "joined");
      if (panels.reduce((all, { make }) => all + make, 0) > 1) found.push(task("block", panels), task("join_panels", panels));
      for (const piece of covers) {
        const target = covers.find(({ key }) => key === sewnTo(piece));
        if (target) found.push(task("attach", [piece, target]));
      }
      const whole = panels.filter(({ fringe }) => fringe && fringe.along);
      if (whole.length) found.push(task("fringe", whole));
      found.push(...covers.filter((one) => one.fringe && !whole.includes(one)).map((one) => task("fringe", [one])));
      return found;
    };
    const usual = () => {
      const found = [];
      const linings = new Map(pieces.filter(({ lining }) => lining !== null).map((piece) => [piece.lining, piece]));
      const covers = pieces.filter(({ lining }) => lining === null);
      const looked = pieces.filter((piece) => piece.filled || shut(piece) || piece.stitches * piece.worked >= telling.big);
      if (looked.length) found.push(task("mend", looked));
      for (const piece of covers) if (piece.filled) found.push(...filledTasks(piece, linings.get(piece.key)));
      const loose = covers.filter(({ filled }) => !filled);
      for (const group of alike(loose, linings)) {
        found.push(...plainTasks(group));
        const lining = linings.get(group[0].key);
        if (!lining) continue;
        found.push(...plainTasks([lining]), task("weave_in", [group[0], lining]), task("line_open", [lining, group[0]]));
      }
      const hanging = loose.filter((piece) => !linings.has(piece.key) && !shut(piece) && !layered(piece));
      if (hanging.length) found.push(task("weave_in", hanging));
      found.push(...joinedTasks(covers));
      const stuffed = covers.filter(({ filled }) => filled).map(({ key }) => key);
      const flat = loose.filter((piece) => !stuffed.includes(sewnTo(piece)));
      if (flat.some(({ sides }) => sides !== "joined")) found.push(task("wash", flat));
      if (about.steam) found.push(task("press", covers));
      found.push(...covers.filter(({ brim }) => brim).map((piece) => task("turn_up", [piece])));
      if (given.kind === "bunting") found.push(task("string", covers));
      return found;
    };

    // ---- making up: the words
    const endNamed = (end) => telling.ends[end] || say("the end");
    const allOf = (copies) => (copies === 2 ? say("both") : say("all {number}", { number: copies }));
    const copiesOf = (of) => of.reduce((all, { make }) => all + make, 0);
    const brimFacts = (first, of) => {
      const wrong = of.filter(({ brim }) => brim && brim.layers === 1).map((piece) => {
        const whose = of.length > 1 ? say(" of {pieces}", { pieces: the(piece.title) }) : "";
        const fields = { of: whose, reading: rc(piece.brim.turn) };
        return piece.brim.end === 0 ? say("of the first rows{of} (up to {reading})", fields)
          : say("of the last rows{of} (from {reading} on)", fields);
      });
      const { brim } = first;
      const bands = brim ? brim.bands.map(([yarn, rows]) => say("{yarn} {rows}", {
        yarn: `${yarnOf(yarn).letter} (${yarnOf(yarn).name})`, rows: `${rows} ${rowsNoun(rows)}` })) : [];
      return {
        shown_wrong: listed(wrong), brim_stripes: bands.length, brim_at: brim ? rc(brim.turn) : "",
        hem_covers: listed(underHem(first).map(rc)), brim_rows: brim ? brim.rows : 0, brim_layers: brim ? brim.layers : 0,
        brim_height: brim ? figures.cm(brim.rows / worked.gauge[1]) : "", brim_shows: listed(bands),
      };
    };
    const rowsNoun = (rows) => trn(rows, "{number} row", "{number} rows").replace(/^\D*\d+\s*/, "");
    const endFacts = (one, piece) => {
      const at = one.end === "last" ? 1 : 0;
      const lives = live(piece, at);
      const to = piece.attach && pieceOf(piece.attach[0]);
      const join = to && piece.attach[1] !== null && to.joins.find(([key]) => key === piece.key);
      return {
        live: lives, loops: lives ? say("live stitch of {end}", { end: endNamed(one.end) }) : say("loop of the cast-on edge"),
        hung: one.end === "last" && !live(piece, 0), marked: isDeep(piece.ends[at]), sits: join ? rc(join[1]) : "",
      };
    };
    const fillFacts = (piece) => {
      if (worked.filling === null) return { amount: say("enough"), material: say("filling"), firmness: telling.firmness, many: false };
      const many = copiesOf(pieces.filter(({ filled }) => filled)) > 1;
      const each = many ? worked.parts.get(piece.lining === null ? piece.key : piece.lining) : undefined;
      const { weighed } = given.fill; // and nothing is filled as designed, so that no density is known
      const amount = figures.g(tools.fillingTold(each === undefined ? worked.filling : each, weighed));
      return { amount: weighed && each === undefined ? amount : say("about {amount}", { amount }), material: about.material,
        firmness: about.firmness, many: many && each === undefined };
    };
    const fringeFacts = (of) => {
      const { fringe } = of[0];
      if (!fringe) {
        return { cut: "", finished: "", tassels: 0, strands: 0, every: 0, along: false, layers_through: 1,
          fringe_first: "", fringe_last: "" };
      }
      const [first, last] = fringe.yarns.map((yarn) => yarnOf(yarn).letter);
      const tassels = fringe.along ? of.reduce((all, one) => all + tools.tasselsOf(one), 0) : fringe.tassels;
      return { cut: figures.cm(fringe.cut), finished: figures.cm(about.pieces[of[0].key].tassel), tassels,
        along: Boolean(fringe.along), strands: fringe.strands, every: fringe.every, layers_through: fringe.layers,
        fringe_first: first, fringe_last: last };
    };
    const hungBy = (of) => {
      const by = new Map();
      for (const piece of of) {
        const [first, last] = piece.ends.map(({ edge }) => edge);
        const end = last === "gathered" && first !== "gathered" ? "first" : "last";
        by.set(end, [...(by.get(end) || []), the(piece.title)]);
      }
      if (by.size === 1) return endNamed([...by.keys()][0]);
      return listed([...by].map(([end, titles]) => say("{end} of {pieces}", { end: endNamed(end), pieces: listed(titles) })));
    };
    const turnedOut = (of) => {
      const hollow = of.filter((piece) => piece.form === "tube" || piece.sides === "seamed");
      if (hollow.length === of.length) return copiesOf(of) === 1 ? say("it") : say("each");
      return listed(hollow.map(({ title }) => the(title)));
    };
    const taskFacts = (one) => {
      const of = one.pieces.length ? one.pieces : pieces;
      const [first] = of;
      const titles = of.map(({ title }) => title);
      const [, , tailOf] = texts[one.do];
      const last = one.end === "last" || tailOf === "last";
      const at = last ? first.plan.length - 1 : 0;
      const line = first.plan[at];
      const copies = copiesOf(of);
      const which = tailOf === "side" ? "side" : last ? "last" : "first";
      const cover = first.lining === null ? null : pieceOf(first.lining);
      return {
        piece: small(titles[0]), the_piece: the(titles[0]), pieces: capital(listed(titles.map(small))),
        the_pieces: listed(titles.map(the)), copies, all: allOf(copies), attached_copies: first.make,
        attached_all: allOf(first.make), end: endNamed(one.end), both_ends: one.end === "both", last,
        tail: tail(`${first.key}.${which}`), letter: yarnOf(line.yarn).letter, yarn: yarnOf(line.yarn).name,
        grafted: last ? madeAfter(first, at) : madeBefore(first, at), laid_by: last && !line.rows,
        yarns: distinct(of.flatMap(({ plan }) => plan.map(({ yarn }) => yarn))).length,
        allowance: first.ends[last ? 1 : 0].rows, folded: first.fold !== null, inner: first.lining !== null,
        filled: first.filled || Boolean(cover && cover.filled), form: first.form, ring: first.ring, turned: turnedOut(of),
        same: first.ends[0].edge === first.ends[1].edge, odd: first.stitches % 2 === 1,
        slit: first.openings.some(({ side }) => side !== "both"),
        gaps: first.openings.map((gap) => say("{what} from {first} to {last}",
          { what: gap.what, first: rc(gap.first - 1), last: rc(gap.last) })).join(", "),
        stripes: Math.max(...of.map(({ plan }) => plan.length)), the_lining: the(titles[0]),
        the_cover: the(titles[titles.length - 1]), target: the(titles[titles.length - 1]),
        attached: listed((titles.length > 1 ? titles.slice(0, -1) : titles).map(the)),
        order: given.join.map((key) => small(pieceOf(key).title)).join(", "), hung_by: hungBy(of),
        goes_in: goesIn(first), width: figures.cm(first.width), length: figures.cm(first.upLength),
        layers: first.form === "panel" ? say("the two layers of the panel") : say("the two layers"),
        ...brimFacts(first, of), ...endFacts(one, first), ...fillFacts(first), ...fringeFacts(of),
      };
    };
    const among = (one, at, all) => {
      const same = all.filter((other) => other.do === one.do && other.end === one.end && other.pieces.length);
      const several = Boolean(one.end && one.pieces.length) && same.length > 1;
      const shown = several ? all.slice(0, at).find((other) => same.includes(other)) : null;
      return {
        of: several ? say(" of {pieces}", { pieces: listed(one.pieces.map(({ title }) => the(title))) }) : "",
        like: shown ? listed(shown.pieces.map(({ title }) => the(title))) : "",
      };
    };
    const wasteOff = (one, facts, before) => {
      const both = one.end === "both" || !one.end || texts[one.do][2] === "last";
      const ends = both ? ["first", "last"] : [one.end];
      const done = before.filter((other) => texts[other.do][3] && other.pieces.length).map(({ end }) => end);
      const told = done.includes("both") ? ["first", "last"] : done;
      return written0("waste_off", { ...facts, end: both ? endNamed("both") : facts.end, both_ends: both,
        last: ends.length === 1 && ends[0] === "last", again: ends.includes("first") && ends.every((end) => told.includes(end)),
        as_you_go: one.do.startsWith("graft") });
    };
    const makingUp = () => {
      const all = about.tasks === null ? usual()
        : about.tasks.map(([technique, keys, end, note]) => task(technique, keys.map(pieceOf), end, note));
      return all.map((one, at) => {
        const facts = { ...taskFacts(one), ...among(one, at, all) };
        const waste = wasteOff(one, facts, all.slice(0, at));
        const alone = one.pieces.length === 1 ? one.pieces[0].key : null;
        const made = step(one.do, `making-up.${at + 1}`, { ...facts, waste }, { piece: alone, note: one.note });
        const begun = `${facts.pieces}: `;
        if (made.text && (facts.of || pieces.length === 1) && made.text.startsWith(begun)) {
          made.text = capital(made.text.slice(begun.length));
        }
        return made;
      });
    };

    // ---- stripes that the plan tells whole, told as one
    const inRuns = (steps) => {
      const found = [];
      let run = [];
      const nameOf = ({ key }) => key.slice(key.lastIndexOf(".") + 1);
      const close = () => {
        if (run.length < FEWEST) found.push(...run);
        else {
          const [first, last] = [run[0], run[run.length - 1]];
          const text = first.change
            ? "Before each stripe change yarns as at {change}; then knit until the counter reads what its line in the plan says, and tick it off there."
            : "Knit on down the plan, each stripe until the counter reads what its line there says, and tick it off. Between two stripes change yarns as at {change}.";
          found.push({ number: `${first.number}–${last.number}`, steps: run,
            title: say("Stripes {first} to {last}", { first: nameOf(first), last: nameOf(last) }),
            text: say(text, { change: last.change || "" }) });
        }
        run = [];
      };
      for (const one of steps) {
        const like = run.length ? run[run.length - 1].change : null;
        if (!(run.length && one.change && (like === "" || like === one.change))) close();
        if (one.change === null) found.push(one);
        else run.push(one);
      }
      close();
      return found;
    };

    const groups = pieces.map(knit);
    groups.push({ key: "making-up", steps: makingUp() });
    return { events: new Map(pieces.map((piece) => [piece.key, toldEvents(piece)])),
      groups: groups.map(({ key, steps }) => ({ key, steps, told: inRuns(steps) })) };
  };

  document.addEventListener("stripewright:own-steps", ({ detail }) => {
    detail.told = tellAll(detail);
  });
})();
