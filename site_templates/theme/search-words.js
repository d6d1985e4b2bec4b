// The search's words: cut from a text, bare of their endings, and how far one is from another.
// `cut` and `root` stand a second time in `refgen/spelling.py`, for the builder of the index.
// ---- words cut from a text
const WORD = /[0-9]+(?:[./][0-9]+)*|\p{L}[\p{L}\p{N}]*/gu;
const PLAIN_WORD = /[0-9]+(?:[./][0-9]+)*|[a-z][a-z0-9]*/g; // the same for English, and faster

function bare(text) {
  return text.toLowerCase().replace(/[¼-¾⅐-⅞]/g, " $&").normalize("NFKD").replace(/\p{Mn}/gu, "")
    .replace(/['’]/g, "").replace(/⁄/g, "/").replace(/([0-9]),(?=[0-9]{3})/g, "$1");
}
function cut(text) {
  return bare(text).match(WORD) || [];
}
function cutBare(text) {
  return text.match(/[^\x00-\x7f]/.test(text) ? WORD : PLAIN_WORD) || [];
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
  const telling = words.filter((word) => !skip.has(word));
  return [words, telling].map((some) => some.map((word) => root(word, endings)).join(""));
}

// ---- how far one word is from another

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
let rows = [0, 0, 0].map(() => new Uint16Array(64));
function distance(one, other, most, open) {
  const wide = other.length;
  if (wide >= rows[0].length) rows = rows.map(() => new Uint16Array(2 * wide));
  let [before, row, next] = rows;
  for (let j = 0; j <= wide; j += 1) row[j] = j;
  for (let i = 1; i <= one.length; i += 1) {
    let least = next[0] = i;
    const letter = one.charCodeAt(i - 1);
    for (let j = 1; j <= wide; j += 1) {
      const there = other.charCodeAt(j - 1);
      let d = row[j - 1] + (letter !== there ? 1 : 0);
      if (row[j] + 1 < d) d = row[j] + 1;
      if (next[j - 1] + 1 < d) d = next[j - 1] + 1;
      if (i > 1 && j > 1 && letter === other.charCodeAt(j - 2) && one.charCodeAt(i - 2) === there
          && before[j - 2] + 1 < d) d = before[j - 2] + 1;
      next[j] = d;
      if (d < least) least = d;
    }
    if (least > most) return most + 1;
    [before, row, next] = [row, next, before];
  }
  let d = row[wide];
  if (open) for (let j = 0; j < wide; j += 1) if (row[j] < d) d = row[j];
  return d;
}

// How a word sounds: its consonants, those alike in sound as one, and whether it begins with a
// vowel. Two words that sound alike are taken for one though several letters differ.
const FIRM = letters("bdgjlmnrtv"); // consonants that are heard as they are written
function sound(word) {
  return word.replace(/ph/g, "f").replace(/c(?=[eiy])/g, "s").replace(/c|q/g, "k").replace(/x/g, "ks")
    .replace(/z/g, "s").replace(/^[aeiouy]/, "A").replace(/[aeiouyhw]/g, "").replace(/(.)\1+/g, "$1");
}
