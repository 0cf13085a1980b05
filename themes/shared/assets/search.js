// Search over all patterns of the site, in a list that is a script: index.js beside the catalogue
// (pages/search.py says how it is written). document.search(address) gives a promise of
//   patterns     in the catalogue's order: slug, title, summary, kind, level, bed, needles, size,
//                minutes, updated, access, price, cost, yarns, tags, weight, colours, shades (of
//                the yarns that it is written in)
//   find(text)   null where the text has no words; else { scores, close }: how well each pattern
//                fits, 0 for not at all, and whether that took typing slips to be forgiven.
// Each word must begin a word of the title, kind, tags, yarns or summary, accents and case aside.
(() => {
  "use strict";

  const { tr } = document.words;

  const A_TURN = 250; // patterns read at a time: between them the page answers
  const MOST_WORDS = 8;
  const MOST_LETTERS = 40;
  const FIELDS = 8; // more than there are
  const WORTH = [8, 5, 4, 3, 1]; // of a word in the title, kind, tags, yarns, summary
  const WHOLE = 1;
  const BEGINNING = 0.8;
  const SLIPS = [1, 0.5, 0.3]; // by how many
  const SPELT = { ß: "ss", æ: "ae", œ: "oe", ø: "o", ł: "l", đ: "d", ð: "d", þ: "th", ı: "i" };

  const folded = (text) => {
    const lower = text.toLowerCase();
    if (/^[\x00-\x7f]*$/.test(lower)) return lower.replace(/'/g, "");
    return lower.normalize("NFKD").replace(/[\p{M}'’ʼ]/gu, "").replace(/[ßæœøłđðþı]/g, (sign) => SPELT[sign]);
  };
  const wordsOf = (text) => folded(text).match(/[\p{L}\p{N}]+/gu) || [];

  // Slips that are forgiven: one letter wrong, missing, too many or two changed about; two in long words.
  const forgiven = (word) => (word.length < 4 ? 0 : word.length < 8 ? 1 : 2);

  // ---- reading the list -------------------------------------------------------------------------
  const number = (code) => [...code].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 97, 0);
  const places = (codes) => (codes ? codes.split(",").map(number) : []);
  const each = (values) => [...new Set(values.filter((value) => value !== ""))];

  const patternOf = (row, lists) => {
    const [slug, title, summary, codes] = row.split("\t");
    const [kind, level, bed, size, minutes, updated, price, yarns, tags, written] = codes.split(".");
    const [form, needles] = lists.beds[number(bed)].split(" ");
    const used = places(yarns);
    const its = used.map((place) => lists.yarns[place]);
    return {
      slug, title, summary, needles, bed: form,
      kind: lists.kinds[number(kind)],
      level: level ? lists.levels[number(level)] : "",
      size: lists.sizes[number(size)],
      minutes: number(minutes),
      updated: number(updated),
      access: price ? "paid" : "free",
      price: price ? number(price) + 1 : 0, // what costs more comes later: its place, not its amount
      cost: price ? lists.prices[number(price)] : "",
      yarns: its,
      weight: each(its.map(({ weight }) => weight)),
      colours: each(its.map(({ family }) => family)),
      shades: each(its.map(({ colour }) => colour)).slice(0, written ? number(written) : its.length),
      tags: places(tags).map((place) => lists.tags[place]),
    };
  };

  const yarnOf = (families) => (text) => {
    const [name, colour, codes] = text.split("\t");
    return {
      name, colour: `#${colour}`, family: families[number(codes[0])], words: wordsOf(name),
      weight: codes.length > 1 ? String(number(codes.slice(1))) : "",
    };
  };

  const pause = () => new Promise((resolve) => { setTimeout(resolve); });

  const read = async (data) => {
    const lists = { ...data, yarns: data.yarns.map(yarnOf(data.families)) };
    const wordsOfName = new Map();
    const named = (name, told) => {
      if (!wordsOfName.has(name)) wordsOfName.set(name, wordsOf(told));
      return wordsOfName.get(name);
    };
    const rows = data.rows.split("\n").slice(0, -1);
    const patterns = [];
    const standing = new Map(); // word -> where it stands: the pattern's number and the field's
    const put = (at, field, words) => {
      for (const word of words) {
        const there = standing.get(word);
        if (there) there.push(at * FIELDS + field);
        else standing.set(word, [at * FIELDS + field]);
      }
    };
    for (const [at, row] of rows.entries()) {
      const one = patternOf(row, lists);
      patterns.push(one);
      put(at, 0, wordsOf(one.title));
      put(at, 1, named(`kind ${one.kind}`, tr(one.kind)));
      for (const tag of one.tags) put(at, 2, named(`tag ${tag}`, tag));
      for (const yarn of one.yarns) put(at, 3, yarn.words);
      put(at, 4, wordsOf(one.summary));
      if (at % A_TURN === A_TURN - 1) await pause();
    }
    return { patterns, find: finder(patterns.length, standing) };
  };

  // ---- finding ----------------------------------------------------------------------------------
  const alike = (one, two) => {
    let at = 0;
    while (at < one.length && one[at] === two[at]) at += 1;
    return at;
  };

  const finder = (count, standing) => {
    const words = [...standing.keys()].sort();
    const shared = words.map((word, at) => (at ? alike(word, words[at - 1]) : 0)); // letters, with the one before

    const from = (term) => {
      let [low, high] = [0, words.length];
      while (low < high) {
        const middle = (low + high) >> 1;
        if (words[middle] < term) low = middle + 1;
        else high = middle;
      }
      return low;
    };

    // Words that begin with the term, and those that it is only an ending longer than: hats, hat.
    const beginning = (term) => {
      const found = [];
      for (let at = from(term); at < words.length && words[at].startsWith(term); at += 1) {
        found.push([words[at], words[at].length === term.length ? WHOLE : BEGINNING]);
      }
      for (let less = 1; less <= forgiven(term); less += 1) {
        const short = term.slice(0, -less);
        if (standing.has(short)) found.push([short, SLIPS[less]]);
      }
      return found;
    };

    // Words whose beginning is the term but for some slips: the optimal string alignment distance,
    // a row for each letter of a word, the rows of letters that it shares with the word before kept.
    const near = (term, most) => {
      const found = [];
      const rows = [Uint8Array.from({ length: term.length + 1 }, (_, at) => at)];
      const next = (word, depth) => {
        const [before, above] = [rows[depth - 2], rows[depth - 1]];
        const row = rows[depth] || (rows[depth] = new Uint8Array(term.length + 1));
        const letter = word[depth - 1];
        let least = row[0] = Math.min(depth, 255);
        for (let at = 1; at <= term.length; at += 1) {
          const same = letter === term[at - 1];
          let edits = Math.min(above[at] + 1, row[at - 1] + 1, above[at - 1] + (same ? 0 : 1));
          if (before && at > 1 && letter === term[at - 2] && word[depth - 2] === term[at - 1]) {
            edits = Math.min(edits, before[at - 2] + 1);
          }
          row[at] = edits;
          if (edits < least) least = edits;
        }
        return least;
      };
      let hopeless = Infinity; // so many first letters can't be a beginning
      let fitting = Infinity; // so many are one, with `edits`
      let edits = 0;
      for (let at = 0; at < words.length; at += 1) {
        const word = words[at];
        if (shared[at] >= hopeless) continue;
        if (shared[at] < fitting) {
          hopeless = fitting = Infinity;
          for (let depth = shared[at] + 1; depth <= word.length; depth += 1) {
            if (next(word, depth) > most) {
              hopeless = depth;
              break;
            }
            if (rows[depth][term.length] <= most) {
              fitting = depth;
              edits = rows[depth][term.length];
              break;
            }
          }
        }
        if (fitting < Infinity) found.push([word, SLIPS[edits]]);
      }
      return found;
    };

    const add = (scores, found) => {
      const gains = new Float32Array(count);
      for (const [word, closeness] of found) {
        for (const place of standing.get(word)) {
          const gain = WORTH[place % FIELDS] * closeness;
          const at = Math.floor(place / FIELDS);
          if (gain > gains[at]) gains[at] = gain;
        }
      }
      let any = false;
      for (let at = 0; at < count; at += 1) {
        scores[at] = gains[at] && scores[at] >= 0 ? scores[at] + gains[at] : -1;
        any = any || scores[at] > 0;
      }
      return any;
    };

    return (text) => {
      const terms = wordsOf(text).slice(0, MOST_WORDS).map((word) => word.slice(0, MOST_LETTERS));
      if (!terms.length) return null;
      const exact = terms.map(beginning);
      const wider = terms.map(() => null);
      const widened = (at) => {
        wider[at] = wider[at] || [...exact[at], ...near(terms[at], forgiven(terms[at]))];
        return wider[at];
      };
      // As typed; then with slips where a word is not known at all; then with slips anywhere.
      const ways = [(at) => exact[at], (at) => (exact[at].length ? exact[at] : widened(at)), widened];
      let scores;
      for (const [way, matches] of ways.entries()) {
        scores = new Float32Array(count);
        let any = count > 0;
        for (let at = 0; at < terms.length && any; at += 1) any = add(scores, matches(at));
        if (any) return { scores: scores.map((score) => Math.max(score, 0)), close: way > 0 };
      }
      return { scores: scores.fill(0), close: false };
    };
  };

  // ---- fetching the list, once --------------------------------------------------------------------
  const asked = new Map();
  document.search = (address) => {
    if (!asked.has(address)) {
      asked.set(address, new Promise((resolve, reject) => {
        const script = document.createElement("script");
        script.addEventListener("load", () => {
          const data = document.patternIndex;
          delete document.patternIndex;
          resolve(data);
        });
        script.addEventListener("error", () => reject(new Error(address)));
        script.src = address;
        document.head.append(script);
      }).then(read));
      asked.get(address).catch(() => asked.delete(address)); // asked for again at the next letter
    }
    return asked.get(address);
  };
})();
