// The search: finds pages by whole words, beginnings, words with a wrong letter or two, joined and
// split words, and words that mean the same. A classic script without fetch, so that it also runs
// from a folder; the index is another script, loaded on first use. Every word it shows comes from
// the page. `cut` and `root` stand a second time in `refgen/search.py`, which makes the index.
(function () {
  "use strict";
  const FORMAT = 1;
  // What a word weighs where it stands; a name or title counts above all that is said below it.
  const TITLE = 6, ALSO = 5.5, HEAD = 2, LINE = 2, BODY = 1;
  const ONCE = 0.75, AGAIN = 0.25, MOST = 11; // share for the first use; then so far towards the most
  const CALLED = 1.5; // what a record gains for being called just what was typed, in titles
  const SHOWN = 24;

  const WORD = /[0-9]+(?:[./][0-9]+)*|\p{L}[\p{L}\p{N}]*/gu;
  const PLAIN_WORD = /[0-9]+(?:[./][0-9]+)*|[a-z][a-z0-9]*/g; // the same for English, and faster

  function bare(text) {
    return text.toLowerCase().replace(/[¼-¾⅐-⅞]/g, " $&").normalize("NFKD").replace(/\p{Mn}/gu, "")
      .replace(/['’]/g, "").replace(/⁄/g, "/").replace(/([0-9]),(?=[0-9]{3})/g, "$1");
  }
  function cut(text) {
    return bare(text).match(WORD) || [];
  }

  function root(word, endings) {
    if (word.length < 4 || !/^\p{L}+$/u.test(word)) return word;
    for (const ending of endings) {
      const stem = word.slice(0, -ending.length);
      if (word.endsWith(ending) && stem.length >= 3 && /[aeiouy]/.test(stem)) { word = stem; break; }
    }
    const last = word.length - 1;
    return last > 2 && word[last] === word[last - 1] ? word.slice(0, last) : word;
  }

  // A name in one piece, with and without the words that tell nothing: 'air gap', 'air-gaps' and
  // 'airgap' are one name.
  function keysOf(words, skip, endings) {
    const telling = words.filter(function (word) { return !skip.has(word); });
    return [root(words.join(""), endings), root(telling.join(""), endings)];
  }

  // Letters as bits: words whose letters differ too much need not be compared letter by letter.
  function letters(word) {
    let bits = 0;
    for (let i = 0; i < word.length; i += 1) bits |= 1 << (word.charCodeAt(i) % 31);
    return bits;
  }
  function count(bits) {
    let n = 0;
    for (; bits; bits &= bits - 1) n += 1;
    return n;
  }

  // Letters to change, add, drop or swap to make one word of the other, `most` + 1 if more. With
  // `open`, the other word may go on: what is typed is then taken for a beginning.
  function distance(one, other, most, open) {
    const wide = other.length;
    let before = null, row = [];
    for (let j = 0; j <= wide; j += 1) row.push(j);
    for (let i = 1; i <= one.length; i += 1) {
      const next = [i];
      let least = i;
      for (let j = 1; j <= wide; j += 1) {
        let d = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (one[i - 1] !== other[j - 1]));
        if (before && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1]) {
          d = Math.min(d, before[j - 2] + 1);
        }
        next.push(d);
        if (d < least) least = d;
      }
      if (least > most) return most + 1;
      before = row;
      row = next;
    }
    return open ? Math.min.apply(null, row) : row[wide];
  }

  // ---- the index, unpacked

  function unpack(index) {
    const value = {};
    for (let i = 0; i < index.codes.length; i += 1) value[index.codes[i]] = i;
    const endings = index.endings.split(" ");
    const skip = new Set(cut(index.skip));
    const known = new Map(), words = [], uses = [], roots = new Map(), bits = [], phrasesOf = [];
    const phrases = [], callers = new Map();

    function idOf(word) {
      let id = known.get(word);
      if (id === undefined) {
        id = words.length;
        known.set(word, id);
        words.push(word);
        uses.push([]);
        bits.push(letters(word));
        phrasesOf.push(null);
        const stem = root(word, endings);
        const alike = roots.get(stem);
        if (alike) alike.push(id); else roots.set(stem, [id]);
      }
      return id;
    }
    function use(id, record, weight) {
      const list = uses[id];
      // What several names of a record hold tells more of it, less each time.
      const last = list.length - 1;
      if (list[last - 1] !== record) list.push(record, ONCE * weight);
      else list[last] += AGAIN * (MOST - list[last]);
    }
    function column(text) {
      return bare(text).split("\n");
    }
    function read(text, record, weight, named) {
      const ids = [], said = text.match(/[^\x00-\x7f]/.test(text) ? WORD : PLAIN_WORD) || [];
      for (const word of said) {
        if (skip.has(word)) continue;
        const id = idOf(word);
        use(id, record, weight);
        if (named) ids.push(id);
      }
      if (!named || !said.length) return;
      for (const key of keysOf(said, skip, endings)) {
        const known = callers.get(key);
        if (known) known.add(record); else callers.set(key, new Set([record]));
      }
      if (!ids.length) return;
      for (const id of ids) (phrasesOf[id] = phrasesOf[id] || []).push(phrases.length);
      phrases.push({ record: record, ids: ids, weight: weight / TITLE });
    }

    const titles = index.titles.split("\n"), lines = index.lines.split("\n");
    const ids = index.ids.split("\n");
    const bareTitles = column(index.titles), also = column(index.also), bareLines = column(index.lines);
    const records = [];
    for (const [weight, label, pattern, many] of index.runs) {
      for (let i = 0; i < many; i += 1) {
        const n = records.length;
        records.push({
          title: titles[n], line: lines[n], kind: label, weight: weight,
          address: pattern.replace("*", ids[n])
        });
        read(bareTitles[n], n, TITLE, true);
        if (also[n]) for (const name of also[n].split("|")) read(name, n, ALSO, true);
        read(bareLines[n], n, LINE, false);
      }
    }
    // Each word begins with how many letters it shares with the word before; each of its posts is
    // how far on the next record lies, doubled, and one more where the word names a part of it.
    let word = "";
    const posts = index.posts.split(" ");
    index.words.split(" ").forEach(function (coded, n) {
      if (!coded) return;
      word = word.slice(0, value[coded[0]]) + coded.slice(1);
      const id = idOf(word), post = posts[n];
      let record = -1, got = 0, step = 1;
      for (let i = 0; i < post.length; i += 1) {
        const digit = value[post[i]];
        got += step * digit;
        if (digit >= index.last) { step *= index.codes.length - index.last; continue; }
        record += got >> 1;
        uses[id].push(record, got & 1 ? HEAD : BODY);
        got = 0;
        step = 1;
      }
    });
    const synonyms = new Map();
    for (const line of index.synonyms.split("\n")) {
      const group = line.split("|");
      for (const one of group) {
        const key = one.split(" ").map(function (w) { return root(w, endings); }).join(" ");
        const others = group.filter(function (other) { return other !== one; });
        synonyms.set(key, (synonyms.get(key) || []).concat(others));
      }
    }
    return {
      callers: callers, known: known, words: words, uses: uses, roots: roots, bits: bits, phrases: phrases,
      phrasesOf: phrasesOf, records: records, synonyms: synonyms, endings: endings, skip: skip,
      rarity: uses.map(function (list) { return Math.log(1 + records.length / (0.5 + list.length / 2)); }),
      told: new Map()
    };
  }

  // ---- what one typed word may mean

  function raise(found, id, quality) {
    if (!(found.get(id) >= quality)) found.set(id, quality);
  }

  function same(data, word) {
    const found = new Map();
    for (const id of data.roots.get(root(word, data.endings)) || []) {
      const other = data.words[id];
      const near = (other.startsWith(word) || word.startsWith(other)) && Math.abs(other.length - word.length) <= 2;
      found.set(id, near ? 0.94 : 0.86);
    }
    const id = data.known.get(word);
    if (id !== undefined) found.set(id, 1);
    return found;
  }

  function reach(data, found) {
    let n = 0;
    found.forEach(function (_, id) { n += data.uses[id].length / 2; });
    return n;
  }

  // Words it may be, each with how well it fits; and pairs that stand for it together.
  function meanings(data, word, typing) {
    const key = word + (typing ? "…" : "");
    if (data.told.has(key)) return data.told.get(key);
    const found = same(data, word), pairs = [];
    const exact = found.size > 0, number = /^[0-9]/.test(word);
    if (!number && word.length >= (typing ? 2 : 3)) {
      data.words.forEach(function (other, id) {
        if (other.length > word.length && other.startsWith(word)) {
          raise(found, id, (exact ? 0.5 : 0.9) * (0.6 + 0.4 * word.length / other.length));
        }
      });
    }
    // A name may be spelt wrongly on purpose, so that a rare word is still held for a slip.
    if (!number && word.length >= 4 && reach(data, found) <= 3) wrong(data, word, typing, exact, found);
    if (word.length >= 5) {
      for (let at = 2; at <= word.length - 2; at += 1) {
        const one = same(data, word.slice(0, at)), two = same(data, word.slice(at));
        if (one.size && two.size) pairs.push({ quality: exact ? 0.8 : 0.9, parts: [one, two] });
      }
      if (!exact && !pairs.length && !found.size) both(data, word, pairs);
    }
    alike(data, word, exact, found, pairs);
    const told = { found: found, pairs: pairs, number: number };
    data.told.set(key, told);
    return told;
  }

  // Two words run together, each perhaps with a slip.
  function both(data, word, pairs) {
    for (let at = 4; at <= word.length - 4; at += 1) {
      const parts = [word.slice(0, at), word.slice(at)].map(function (part) {
        const found = same(data, part);
        if (!found.size) wrong(data, part, false, false, found);
        return found;
      });
      if (parts[0].size && parts[1].size) pairs.push({ quality: 0.75, parts: parts });
    }
  }

  function wrong(data, word, typing, exact, found) {
    const most = word.length < 8 ? 1 : 2, bits = letters(word);
    const open = typing && !found.size;
    for (let id = 0; id < data.words.length; id += 1) {
      const other = data.words[id];
      if (other.length < word.length - most || other.length < 4) continue;
      if (!open && other.length > word.length + most) continue;
      const differ = bits ^ data.bits[id];
      if (count(differ & bits) > most || (!open && count(differ) > 2 * most)) continue;
      const d = distance(word, other, most, open);
      if (d === 0 || d > most) continue;
      let quality = d === 1 ? 0.8 : 0.64;
      if (word[0] !== other[0]) quality -= 0.12;
      if (open && other.length > word.length + most) quality *= 0.8;
      raise(found, id, exact ? quality * 0.9 : quality);
    }
  }

  // Words of the same meaning, also those of the word that was probably meant.
  function alike(data, word, exact, found, pairs) {
    const stems = new Map([[root(word, data.endings), 1]]);
    if (!exact) {
      found.forEach(function (quality, id) {
        if (quality >= 0.6) raise(stems, root(data.words[id], data.endings), quality);
      });
    }
    stems.forEach(function (quality, stem) {
      for (const other of data.synonyms.get(stem) || []) join(data, other, quality * 0.8, found, pairs);
    });
  }

  function join(data, text, quality, found, pairs) {
    const parts = text.split(" ").map(function (w) { return same(data, w); });
    if (parts.length === 1) {
      parts[0].forEach(function (q, id) { raise(found, id, q * quality); });
    } else if (parts.every(function (part) { return part.size; })) {
      pairs.push({ quality: quality, parts: parts });
    }
  }

  // ---- which records fit

  // Fill in, for one typed word, what it is worth in each record and how well it fits there.
  function weigh(data, found, worth, fit) {
    found.forEach(function (quality, id) {
      const list = data.uses[id];
      for (let i = 0; i < list.length; i += 2) {
        const record = list[i], w = quality * list[i + 1];
        if (w > worth[record]) worth[record] = w;
        if (quality > fit[record]) fit[record] = quality;
      }
    });
  }

  function weighWord(data, meaning) {
    const many = data.records.length;
    const worth = new Float32Array(many), fit = new Float32Array(many);
    weigh(data, meaning.found, worth, fit);
    for (const pair of meaning.pairs) {
      const both = pair.parts.map(function (part) {
        const one = [new Float32Array(many), new Float32Array(many)];
        weigh(data, part, one[0], one[1]);
        return one;
      });
      for (let r = 0; r < many; r += 1) {
        let w = Infinity, f = Infinity;
        for (const one of both) { w = Math.min(w, one[0][r]); f = Math.min(f, one[1][r]); }
        if (w * pair.quality > worth[r]) worth[r] = w * pair.quality;
        if (f * pair.quality > fit[r]) fit[r] = f * pair.quality;
      }
    }
    let best = 0, hits = 0;
    for (let r = 0; r < many; r += 1) if (fit[r] > best) best = fit[r];
    for (let r = 0; r < many; r += 1) if (fit[r] && fit[r] >= 0.7 * best) hits += 1;
    // A word that nothing knows weighs little: it may be a slip, or say nothing.
    const rarity = hits ? Math.log(1 + many / (0.5 + hits)) : meaning.number ? 0 : 0.5 * Math.log(1 + many);
    return { worth: worth, fit: fit, rarity: rarity };
  }

  // What each record is worth for being called, in so many words, what was typed.
  function named(data, asked, weighed, all) {
    const best = new Float32Array(data.records.length), met = new Map();
    asked.forEach(function (meaning, t) {
      function meet(quality, id) {
        if (quality < 0.4) return;
        for (const p of data.phrasesOf[id] || []) {
          let hit = met.get(p);
          if (!hit) met.set(p, hit = { words: new Map(), typed: new Float32Array(asked.length) });
          raise(hit.words, id, quality);
          if (quality > hit.typed[t]) hit.typed[t] = quality;
        }
      }
      meaning.found.forEach(meet);
      for (const pair of meaning.pairs) {
        for (const part of pair.parts) part.forEach(function (q, id) { meet(q * pair.quality * 0.7, id); });
      }
    });
    met.forEach(function (hit, p) {
      const phrase = data.phrases[p];
      let whole = 0, part = 0, said = 0;
      for (const id of phrase.ids) {
        whole += data.rarity[id];
        part += data.rarity[id] * (hit.words.get(id) || 0);
      }
      for (let t = 0; t < asked.length; t += 1) said += weighed[t].rarity * hit.typed[t];
      const score = (part / whole) * (said / all) * phrase.weight, before = best[phrase.record];
      // The name that fits best counts, and a little each other that fits.
      best[phrase.record] = Math.max(score, before) + 0.1 * Math.min(score, before);
    });
    return best;
  }

  // Whether a word tells nothing: one of those left out, or a slip for one.
  function empty(data, word) {
    if (data.skip.has(word)) return true;
    if (word.length < 4 || data.roots.has(root(word, data.endings))) return false;
    for (const other of data.skip) {
      if (other.length > 3 && distance(word, other, 1, false) === 1) return true;
    }
    return false;
  }

  // Return the records that fit, best first, and how well the best one covers what was typed.
  function find(data, query) {
    const typed = cut(query);
    let words = typed.filter(function (word) { return !empty(data, word); });
    if (!words.length) words = typed;
    if (!words.length) return { hits: [], fits: false };
    const typing = !/\s$/.test(query);
    const asked = words.map(function (word, n) { return meanings(data, word, typing && n === words.length - 1); });
    // Two words typed apart may be one: both then also mean that one.
    for (let n = 0; n + 1 < words.length; n += 1) {
      const whole = same(data, words[n] + words[n + 1]);
      whole.forEach(function (quality, id) {
        for (const i of [n, n + 1]) {
          asked[i] = { found: new Map(asked[i].found), pairs: asked[i].pairs, number: asked[i].number };
          raise(asked[i].found, id, quality * 0.95);
        }
      });
      const group = [root(words[n], data.endings), root(words[n + 1], data.endings)].join(" ");
      for (const other of data.synonyms.get(group) || []) {
        for (const i of [n, n + 1]) {
          asked[i] = { found: new Map(asked[i].found), pairs: asked[i].pairs.slice(), number: asked[i].number };
          join(data, other, 0.8, asked[i].found, asked[i].pairs);
        }
      }
    }
    const weighed = asked.map(function (meaning) { return weighWord(data, meaning); });
    const all = weighed.reduce(function (sum, one) { return sum + one.rarity; }, 0);
    const name = named(data, asked, weighed, all);
    const called = new Set();
    for (const key of keysOf(typed, data.skip, data.endings)) {
      for (const record of data.callers.get(key) || []) called.add(record);
    }
    const hits = [];
    data.records.forEach(function (record, r) {
      let worth = 0, covered = 0;
      for (const one of weighed) {
        worth += one.rarity * one.worth[r];
        covered += one.rarity * one.fit[r];
      }
      const just = called.has(r);
      if (!covered && !just) return;
      covered /= all;
      const score = (worth * (0.3 + 0.7 * covered) + TITLE * all * name[r]) * record.weight
        + (just ? CALLED * TITLE * all : 0);
      hits.push({ record: record, score: score, covered: covered, n: r });
    });
    hits.sort(function (a, b) { return b.score - a.score || a.n - b.n; });
    const least = hits.length ? hits[0].score * 0.1 : 0;
    const kept = hits.filter(function (hit) { return hit.score >= least; }).slice(0, SHOWN);
    return kept.length ? { hits: kept, fits: kept.some(function (hit) { return hit.covered >= 0.45; }) }
      : { hits: nearest(data, words.join(" ")), fits: false };
  }

  // The records whose names share most pairs of letters with what was typed.
  function pairsOf(text) {
    const pairs = new Set();
    for (let i = 0; i + 1 < text.length; i += 1) pairs.add(text.slice(i, i + 2));
    return pairs;
  }
  function nearest(data, typed) {
    const mine = pairsOf(typed), best = new Float32Array(data.records.length);
    for (const phrase of data.phrases) {
      const theirs = pairsOf(phrase.ids.map(function (id) { return data.words[id]; }).join(" "));
      let shared = 0;
      theirs.forEach(function (pair) { if (mine.has(pair)) shared += 1; });
      const score = 2 * shared / (mine.size + theirs.size || 1) * data.records[phrase.record].weight;
      if (score > best[phrase.record]) best[phrase.record] = score;
    }
    return data.records.map(function (record, n) { return { record: record, score: best[n], n: n }; })
      .filter(function (hit) { return hit.score > 0.2; })
      .sort(function (a, b) { return b.score - a.score || a.n - b.n; }).slice(0, 6);
  }

  // ---- the page

  const base = document.documentElement.getAttribute("data-root");
  let data = null, waiting = null;

  function load() {
    waiting = waiting || new Promise(function (resolve, reject) {
      const script = document.createElement("script");
      script.src = base + "assets/search-index.js";
      script.onload = function () {
        const index = window.refgenIndex;
        if (!index || index.format !== FORMAT) { reject(new Error("index")); return; }
        data = unpack(index);
        resolve(data);
      };
      script.onerror = function () { reject(new Error("index")); };
      document.head.appendChild(script);
    });
    return waiting;
  }

  window.refgenSearch = {
    cut: cut, root: root, load: load, unpack: unpack,
    find: function (query) { return find(data, query); }
  };

  const input = document.getElementById("q");
  if (!input) return;
  const list = document.getElementById("found"), told = document.getElementById("count");
  let active = -1, timer = 0;

  function options() { return list.children; }
  function choose(n) {
    const all = options();
    active = n;
    for (let i = 0; i < all.length; i += 1) all[i].setAttribute("aria-selected", String(i === n));
    if (n < 0) { input.removeAttribute("aria-activedescendant"); return; }
    input.setAttribute("aria-activedescendant", all[n].id);
    all[n].scrollIntoView({ block: "nearest" });
  }
  function element(name, text) {
    const made = document.createElement(name);
    made.textContent = text;
    return made;
  }
  function option(hit, n) {
    const link = document.createElement("a");
    link.setAttribute("role", "option");
    link.setAttribute("aria-selected", "false");
    link.id = "found-" + n;
    link.href = base + hit.record.address;
    link.appendChild(element("b", hit.record.title));
    if (hit.record.kind) { link.append(" "); link.appendChild(element("small", hit.record.kind)); }
    if (hit.record.line) { link.append(" "); link.appendChild(element("span", hit.record.line)); }
    return link;
  }
  function say(name, n) {
    told.textContent = name ? told.getAttribute("data-" + name).replace("{count}", String(n)) : "";
  }
  function keepAddress() {
    clearTimeout(timer);
    timer = 0;
    const query = input.value.trim(), address = new URL(location.href);
    if (query) address.searchParams.set("q", query); else address.searchParams.delete("q");
    if (address.href !== location.href) history.replaceState(history.state, "", address.href);
  }
  function show() {
    const query = input.value.trim();
    list.textContent = "";
    choose(-1);
    if (!query || !data) {
      list.hidden = true;
      input.setAttribute("aria-expanded", "false");
      say(query ? "waiting" : "");
      return;
    }
    const answer = find(data, input.value);
    answer.hits.forEach(function (hit, n) { list.appendChild(option(hit, n)); });
    const many = answer.hits.length;
    list.hidden = !many;
    input.setAttribute("aria-expanded", String(many > 0));
    say(!answer.fits ? (many ? "near" : "none") : many === 1 ? "one" : "many", many);
  }
  function start() {
    load().then(show, function () { if (input.value.trim()) say("failed"); });
  }

  input.addEventListener("input", function () {
    start();
    show();
    clearTimeout(timer);
    timer = setTimeout(keepAddress, 300);
  });
  input.addEventListener("keydown", function (event) {
    const many = options().length;
    if (event.isComposing) return;
    if (event.key === "ArrowDown" && many) choose((active + 1) % many);
    else if (event.key === "ArrowUp" && many) choose(active > 0 ? active - 1 : many - 1);
    else if (event.key === "Enter" && active >= 0) options()[active].click();
    // On a phone Enter puts the keyboard away, so that the results are seen.
    else if (event.key === "Enter" && many && matchMedia("(pointer: coarse)").matches) input.blur();
    else if (event.key === "Enter" && many) choose(0);
    else if (event.key === "Escape" && active >= 0) choose(-1);
    else if (event.key === "Escape") { input.value = ""; show(); keepAddress(); }
    else return;
    event.preventDefault();
  });
  list.addEventListener("click", keepAddress);
  window.addEventListener("pagehide", function () { if (timer) keepAddress(); });

  input.closest(".find").hidden = false;
  // The address before what the browser kept of the field: coming back shows what was left.
  input.value = new URLSearchParams(location.search).get("q") || input.value;
  if (input.value) { start(); show(); }
  else {
    if (document.readyState === "complete") start();
    else window.addEventListener("load", start);
  }
  if (!input.value || matchMedia("(pointer: fine)").matches) input.focus();
})();
