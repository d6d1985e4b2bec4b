// The search's index, unpacked: which words there are, which records use each, and what each
// record is called.
// What a word weighs where it stands; a name or title counts above all that is said below it.
const TITLE = 6, ALSO = 5.5, HEAD = 2, LINE = 2, BODY = 1;
// Share that its first use has of that, and how far towards the most each further use goes.
const ONCE = 0.8, AGAIN = 0.25, MOST = 11;

function unpack(index) {
  const endings = index.endings.split(" "), skip = new Set(cut(index.skip));
  const known = new Map(), words = [], uses = [], bits = [];
  const roots = new Map(), rootOf = []; // words of a root, and the root of a word
  const phrases = [], phrasesOf = []; // names, and those that hold a word
  const callers = new Map(), titled = new Map(), records = [];

  function idOf(word) {
    let id = known.get(word);
    if (id === undefined) {
      id = words.length;
      const stem = root(word, endings), alike = roots.get(stem);
      known.set(word, id);
      words.push(word);
      uses.push([]);
      bits.push(letters(word));
      phrasesOf.push(null);
      rootOf.push(stem);
      if (alike) alike.push(id); else roots.set(stem, [id]);
    }
    return id;
  }
  function use(id, record, weight) {
    const list = uses[id], last = list.length - 1;
    // What several names of a record hold tells more of it, less each time.
    if (list[last - 1] !== record) list.push(record, ONCE * weight);
    else list[last] += AGAIN * (MOST - list[last]);
  }
  function read(text, record, weight) {
    const said = cutBare(text), ids = [];
    for (const word of said) {
      if (skip.has(word)) continue;
      ids.push(idOf(word));
      use(ids[ids.length - 1], record, weight);
    }
    return { said: said, ids: ids };
  }
  function note(map, key, record) {
    const noted = map.get(key);
    if (noted) noted.push(record); else map.set(key, [record]);
  }
  function readName(text, record, weight) {
    const name = read(text, record, weight);
    for (const key of keysOf(name.said, skip, endings)) note(callers, key, record);
    if (weight === TITLE) note(titled, name.said.join(""), record);
    if (!name.ids.length) return;
    for (const id of name.ids) (phrasesOf[id] = phrasesOf[id] || []).push(phrases.length);
    phrases.push({ record: record, ids: name.ids, weight: weight / TITLE });
  }

  const ids = index.ids.split("\n"), titles = index.titles.split("\n"), lines = index.lines.split("\n");
  const bareTitles = bare(index.titles).split("\n"), also = index.also.split("\n");
  const bareLines = bare(index.lines).split("\n");
  for (const [weight, label, pattern, many] of index.runs) {
    for (let i = 0; i < many; i += 1) {
      const n = records.length, address = pattern.replace("*", ids[n] || slug(titles[n]));
      records.push({ title: titles[n], line: lines[n], kind: label, weight: weight, address: address });
      readName(bareTitles[n], n, TITLE);
      if (also[n]) for (const name of also[n].split("|")) readName(name, n, ALSO);
      read(bareLines[n], n, LINE);
    }
  }
  readTable(index, (word, record, isHead) => uses[idOf(word)].push(record, isHead ? HEAD : BODY));
  return {
    known: known, words: words, uses: uses, bits: bits, roots: roots, rootOf: rootOf,
    phrases: phrases, phrasesOf: phrasesOf, callers: callers, titled: titled, records: records,
    skip: skip, endings: endings, synonyms: synonymsOf(index, endings), told: new Map(),
    rarity: uses.map((list) => Math.log(1 + records.length / (0.5 + list.length / 2))),
    best: new Float32Array(words.length), said: new Float32Array(phrases.length),
    now: new Float32Array(phrases.length)
  };
}

// The id of a record that is called by its title.
function slug(title) {
  return title.toLowerCase().match(/[a-z0-9]+/g).join("-");
}

// Each word begins with how many letters it shares with the word before; each of its posts is how
// far on the next record lies, doubled, and one more where the word names a part of it.
function readTable(index, use) {
  const value = {}, posts = index.posts.split(" ");
  for (let i = 0; i < index.codes.length; i += 1) value[index.codes[i]] = i;
  let word = "";
  index.words.split(" ").forEach((coded, n) => {
    if (!coded) return;
    word = word.slice(0, value[coded[0]]) + coded.slice(1);
    let record = -1, got = 0, step = 1;
    for (const sign of posts[n]) {
      const digit = value[sign];
      got += step * digit;
      if (digit >= index.last) { step *= index.codes.length - index.last; continue; }
      record += got >> 1;
      use(word, record, got & 1);
      got = 0;
      step = 1;
    }
  });
}

function synonymsOf(index, endings) {
  const synonyms = new Map();
  for (const line of index.synonyms.split("\n")) {
    const group = line.split("|");
    for (const one of group) {
      const key = one.split(" ").map((word) => root(word, endings)).join(" ");
      const others = group.filter((other) => other !== one);
      synonyms.set(key, (synonyms.get(key) || []).concat(others));
    }
  }
  return synonyms;
}
