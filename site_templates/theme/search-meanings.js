// What one typed word may mean: itself, a word it begins, one with a slip, two run together, or a
// word of the same meaning; each with how well it fits, from 0 to 1.
// How well a word fits with another ending, as another word for the same, or by its sound alone.
const ENDED = 0.96, ALIKE = 0.7, SOUNDS = 0.62;
function raise(found, id, quality) {
  if (!(found.get(id) >= quality)) found.set(id, quality);
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

function same(data, word) {
  const found = new Map();
  for (const id of data.roots.get(root(word, data.endings)) || []) found.set(id, ENDED);
  const id = data.known.get(word);
  if (id !== undefined) found.set(id, 1);
  return found;
}

function reach(data, found) {
  let n = 0;
  found.forEach((_, id) => { n += data.uses[id].length / 2; });
  return n;
}

// Words it may be, each with how well it fits; and pairs that stand for it together.
function meanings(data, word, typing) {
  const key = word + (typing ? "…" : "");
  if (data.told.has(key)) return data.told.get(key);
  const found = same(data, word), pairs = [];
  const exact = found.size > 0, number = /^[0-9]/.test(word);
  if (!number && word.length >= (typing ? 2 : 3)) begun(data, word, exact, found);
  // A name may be spelt wrongly on purpose, so that a rare word is still held for a slip.
  if (!number && word.length >= (exact ? 4 : 3) && reach(data, found) <= 3) {
    const stem = root(word, data.endings);
    wrong(data, word, typing, exact, found);
    // The slip may stand in a form that no name has, of a word that one has.
    if (stem !== word && stem.length > 3) wrong(data, stem, false, exact, found);
  }
  for (let at = 2; word.length >= 5 && at <= word.length - 2; at += 1) {
    const parts = [word.slice(0, at), word.slice(at)].map((part) => same(data, part));
    if (parts[0].size && parts[1].size) pairs.push({ quality: exact ? 0.8 : 0.9, parts: parts });
  }
  if (!found.size && !pairs.length) runTogether(data, word, pairs);
  alike(data, word, exact, found, pairs);
  const told = { found: found, pairs: pairs, number: number };
  // Every beginning of a word is a word of its own here: they must not fill the phone.
  if (data.told.size > 300) data.told.clear();
  data.told.set(key, told);
  return told;
}

function begun(data, word, exact, found) {
  for (let id = 0; id < data.words.length; id += 1) {
    const other = data.words[id];
    if (other.length > word.length && other.startsWith(word)) {
      raise(found, id, (exact ? 0.5 : 0.9) * (0.6 + 0.4 * word.length / other.length));
    }
  }
}

function wrong(data, word, typing, exact, found) {
  const most = word.length < 8 ? 1 : 2, bits = letters(word);
  const open = typing && !found.size, heard = sound(word), telling = heard.length > 2;
  for (let id = 0; id < data.words.length; id += 1) {
    const other = data.words[id];
    if (telling && !((bits ^ data.bits[id]) & FIRM) && Math.abs(other.length - word.length) < heard.length - 1 && sound(other) === heard) {
      raise(found, id, exact ? SOUNDS * 0.9 : SOUNDS);
    }
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

// Two words run together, each perhaps with a slip.
function runTogether(data, word, pairs) {
  for (let at = 4; at <= word.length - 4; at += 1) {
    const parts = [word.slice(0, at), word.slice(at)].map((part) => {
      const found = same(data, part);
      if (!found.size) wrong(data, part, false, false, found);
      return found;
    });
    if (parts[0].size && parts[1].size) pairs.push({ quality: 0.75, parts: parts });
  }
}

// Words of the same meaning, also those of the word that was probably meant.
function alike(data, word, exact, found, pairs) {
  const stems = new Map([[root(word, data.endings), 1]]);
  if (!exact) {
    found.forEach((quality, id) => { if (quality >= 0.6) raise(stems, data.rootOf[id], quality); });
  }
  stems.forEach((quality, stem) => {
    for (const other of data.synonyms.get(stem) || []) join(data, other, quality * ALIKE, found, pairs);
  });
}

function join(data, text, quality, found, pairs) {
  const parts = text.split(" ").map((word) => same(data, word));
  if (parts.length === 1) {
    parts[0].forEach((q, id) => raise(found, id, q * quality));
  } else if (parts.every((part) => part.size)) {
    pairs.push({ quality: quality, parts: parts });
  }
}

// What the words of a query may mean, one by one and two by two.
function meaningsOf(data, words, typing) {
  const asked = words.map((word, n) => meanings(data, word, typing && n === words.length - 1));
  function also(n) { // what is kept for the next query stays as it is
    const { found, pairs, number } = asked[n];
    asked[n] = { found: new Map(found), pairs: pairs.slice(), number: number };
    return asked[n];
  }
  for (let n = 0; n + 1 < words.length; n += 1) {
    // Two words typed apart may be one: both then also mean that one.
    const whole = same(data, words[n] + words[n + 1]);
    const group = [words[n], words[n + 1]].map((word) => root(word, data.endings)).join(" ");
    const others = data.synonyms.get(group) || [];
    if (!whole.size && !others.length) continue;
    for (const one of [also(n), also(n + 1)]) {
      whole.forEach((quality, id) => raise(one.found, id, quality * 0.95));
      for (const other of others) join(data, other, ALIKE, one.found, one.pairs);
    }
  }
  return asked;
}
