// Which records fit what was typed, best first.
// What a record gains for being called what was typed: twice if small words are the same too, four
// times if it is its title letter for letter.
const CALLED = 1;
const WHOLE = 0.9; // share of what was typed that counts as all of it
const SHOWN = 24;

// What one typed word is worth in each record, how well it fits there, and how much it tells.
function weighWord(data, meaning) {
  if (meaning.weighed) return meaning.weighed;
  const many = data.records.length, worth = new Float32Array(many), fit = new Float32Array(many);
  weigh(data, meaning.found, worth, fit);
  for (const pair of meaning.pairs) {
    const both = pair.parts.map((part) => {
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
  // A word that nothing knows weighs little, as it may be a slip; a number so says nothing at all.
  const unknown = meaning.number ? 0 : 0.5 * Math.log(1 + many);
  const rarity = hits ? Math.log(1 + many / (0.5 + hits)) : unknown;
  return meaning.weighed = { worth: worth, fit: fit, rarity: rarity };
}

function weigh(data, found, worth, fit) {
  found.forEach((quality, id) => {
    const list = data.uses[id];
    for (let i = 0; i < list.length; i += 2) {
      const record = list[i], w = quality * list[i + 1];
      if (w > worth[record]) worth[record] = w;
      if (quality > fit[record]) fit[record] = quality;
    }
  });
}

// What each record is worth for names that hold what was typed: how much of the name was typed,
// times how much of what was typed the name holds.
function named(data, asked, weighed, all) {
  const score = new Float32Array(data.records.length);
  const { best, said, now } = data, words = new Set(), met = new Set();
  asked.forEach((meaning, t) => {
    const here = new Set();
    function meet(quality, id) {
      const holders = data.phrasesOf[id];
      if (quality < 0.4 || !holders) return;
      words.add(id);
      if (quality > best[id]) best[id] = quality;
      for (const p of holders) {
        here.add(p);
        if (quality > now[p]) now[p] = quality;
      }
    }
    meaning.found.forEach(meet);
    for (const pair of meaning.pairs) {
      for (const part of pair.parts) part.forEach((q, id) => meet(q * pair.quality * 0.9, id));
    }
    here.forEach((p) => {
      said[p] += weighed[t].rarity * now[p];
      now[p] = 0;
      met.add(p);
    });
  });
  met.forEach((p) => {
    const phrase = data.phrases[p];
    let whole = 0, part = 0;
    for (const id of phrase.ids) {
      whole += data.rarity[id];
      part += data.rarity[id] * best[id];
    }
    const fits = (part / whole) * (said[p] / all) * phrase.weight, before = score[phrase.record];
    // The name that fits best counts, and a little each other that fits.
    score[phrase.record] = Math.max(fits, before) + 0.1 * Math.min(fits, before);
    said[p] = 0;
  });
  words.forEach((id) => { best[id] = 0; });
  return score;
}

// Return the records that fit, best first, and whether one covers enough of what was typed.
function find(data, query) {
  const typed = cut(query);
  let words = typed.filter((word) => !empty(data, word));
  if (!words.length) words = typed;
  if (!words.length) return { hits: [], fits: false };
  const asked = meaningsOf(data, words, !/\s$/.test(query));
  const weighed = asked.map((meaning) => weighWord(data, meaning));
  const all = weighed.reduce((sum, one) => sum + one.rarity, 0) || 1;
  const name = named(data, asked, weighed, all), called = new Map();
  keysOf(typed, data.skip, data.endings).forEach((key, n) => {
    for (const record of data.callers.get(key) || []) raise(called, record, n ? CALLED : 2 * CALLED);
  });
  for (const record of data.titled.get(typed.join("")) || []) raise(called, record, 4 * CALLED);
  const hits = [];
  let most = 0;
  data.records.forEach((record, r) => {
    let worth = 0, covered = 0;
    for (const one of weighed) {
      worth += one.rarity * one.worth[r];
      covered += one.rarity * one.fit[r];
    }
    const just = called.get(r) || 0;
    if (!covered && !just) return;
    covered /= all;
    const score = (worth * (0.1 + 0.9 * covered) + TITLE * all * name[r]) * record.weight + just * TITLE * all;
    if (score < most * 0.1) return;
    if (score > most) most = score;
    hits.push({ record: record, score: score, covered: covered, n: r });
  });
  const kept = hits.filter((hit) => hit.score >= most * 0.1)
    .sort((a, b) => b.score - a.score || a.n - b.n).slice(0, SHOWN);
  // What a word means goes after the thing itself, if that holds all that was typed.
  if (kept.length && kept[0].record.weight < 1) {
    const thing = kept.findIndex((hit) => hit.record.weight >= 1 && hit.covered >= WHOLE);
    if (thing > 0) kept.unshift(...kept.splice(thing, 1));
  }
  return kept.length ? { hits: kept, fits: kept.some((hit) => hit.covered >= 0.45) }
    : { hits: nearest(data, words.join(" ")), fits: false };
}

// The records whose names share most pairs of letters with what was typed.
function nearest(data, typed) {
  const mine = pairsOf(typed), best = new Float32Array(data.records.length);
  for (const phrase of data.phrases) {
    const theirs = pairsOf(phrase.ids.map((id) => data.words[id]).join(" "));
    let shared = 0;
    theirs.forEach((pair) => { if (mine.has(pair)) shared += 1; });
    const score = 2 * shared / (mine.size + theirs.size || 1) * data.records[phrase.record].weight;
    if (score > best[phrase.record]) best[phrase.record] = score;
  }
  return data.records.map((record, n) => ({ record: record, score: best[n], n: n }))
    .filter((hit) => hit.score > 0.3)
    .sort((a, b) => b.score - a.score || a.n - b.n).slice(0, 6);
}
function pairsOf(text) {
  const pairs = new Set();
  for (let i = 0; i + 1 < text.length; i += 1) pairs.add(text.slice(i, i + 2));
  return pairs;
}
