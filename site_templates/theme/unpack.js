// Unpacks what `refgen/packs.py` packs, where the file is described. Stands before the worker.
"use strict";

// Returns `size` bytes; of a file that is damaged, some others, or throws a RangeError.
function unpack(file, size) {
  const head = new DataView(file.buffer, file.byteOffset), number = (i) => head.getUint32(4 * i, true);
  const ordered = number(0), pieces = number(1), parts = [];
  let at = 8 * (1 + pieces), length = 0;
  for (let i = 2; i < 2 + 2 * pieces; i += 2) {
    // A line is told once and has a number or two, so that no more can be right.
    if ((length += number(i + 1)) > 4 * size) throw new RangeError("a piece is too long");
    parts.push(expand(file.subarray(at, at += number(i)), number(i + 1)));
  }
  const whole = new Uint8Array(length);
  parts.reduce((start, part) => (whole.set(part, start), start + part.length), 0);
  return inOrder(whole.subarray(0, ordered), whole.subarray(ordered), size);
}

// Puts lines, of which each is there once, in their order.
function inOrder(order, lines, size) {
  const out = new Uint8Array(size), starts = [0], followers = [];
  let last = 0, read = 0, at = 0;
  while (at < size) {
    let number = 0, bits = 0, line = starts.length - 1;
    if (read >= order.length) throw new RangeError("the order ends early");
    do number += (order[read] & 127) * 2 ** bits, bits += 7; while (order[read++] > 127);
    if (!number) {
      starts.push(lines.indexOf(10, starts[line]) + 1 || lines.length);
      followers[line] = line;
    } else line = number === 1 ? followers[last] : number - 2;
    followers[last] = line;
    last = line;
    out.set(lines.subarray(starts[line], starts[line + 1]), at);
    at += starts[line + 1] - starts[line];
  }
  return out;
}

// Returns `size` bytes out of bare LZMA with lc=4, lp=0, pb=0; of damaged bytes, some others.
//
// The packed bytes are one long number, read bit by bit: each bit costs the less of it the likelier
// it was, and the likelihoods, of 2048 parts, follow what has been read. Bits say: a letter as it
// is, or so many letters from so far back; four distances used last are remembered.
function expand(packed, size) {
  const out = new Uint8Array(size);
  let read = 5, range = 0xffffffff, code = 0;
  for (let i = 1; i < 5; i += 1) code = ((code << 8) | packed[i]) >>> 0;

  const likely = (count) => new Uint16Array(count).fill(1024);
  function bit(odds, i) {
    const bound = (range >>> 11) * odds[i];
    let one = 0;
    if (code < bound) {
      range = bound;
      odds[i] += (2048 - odds[i]) >> 5;
    } else {
      range -= bound;
      code -= bound;
      odds[i] -= odds[i] >> 5;
      one = 1;
    }
    if (range < 0x1000000) {
      range = (range << 8) >>> 0;
      code = ((code << 8) | packed[read++]) >>> 0;
    }
    return one;
  }
  // A number of some bits, the highest first; each bit has odds of its own after those before it.
  function tree(odds, from, bits) {
    let node = 1;
    for (let i = 0; i < bits; i += 1) node = (node << 1) | bit(odds, from + node);
    return node - (1 << bits);
  }
  // The same, the lowest first.
  function treeUp(odds, from, bits) {
    let node = 1, number = 0;
    for (let i = 0; i < bits; i += 1) {
      const one = bit(odds, from + node);
      node = (node << 1) | one;
      number |= one << i;
    }
    return number;
  }
  // Bits of which neither way is likelier.
  function even(bits) {
    let number = 0;
    for (let i = 0; i < bits; i += 1) {
      range >>>= 1;
      const one = code >= range ? 1 : 0;
      if (one) code -= range;
      number = (number << 1) | one;
      if (range < 0x1000000) {
        range = (range << 8) >>> 0;
        code = ((code << 8) | packed[read++]) >>> 0;
      }
    }
    return number;
  }

  const letters = likely(0x300 << 4);
  // What came last, in 12 states: below 7 a letter.
  const copies = likely(12), again = likely(12), last = likely(12), second = likely(12),
    third = likely(12), single = likely(12);
  const slots = likely(4 * 64), middle = likely(128), lowest = likely(16);
  const freshLength = likely(2 + 8 + 8 + 256), againLength = likely(2 + 8 + 8 + 256);

  function length(odds) {
    if (!bit(odds, 0)) return 2 + tree(odds, 1, 3);
    if (!bit(odds, 9)) return 10 + tree(odds, 9, 3);
    return 18 + tree(odds, 17, 8);
  }
  function distance(long) {
    const slot = tree(slots, Math.min(long - 2, 3) << 6, 6);
    if (slot < 4) return slot;
    const bits = (slot >> 1) - 1, start = (2 | (slot & 1)) << bits;
    if (slot < 14) return start + treeUp(middle, start - slot, bits);
    return start + (even(bits - 4) << 4) + treeUp(lowest, 0, 4);
  }

  let state = 0, at = 0, back0 = 0, back1 = 0, back2 = 0, back3 = 0;
  while (at < size) {
    if (!bit(copies, state)) {
      const odds = 0x300 * ((at ? out[at - 1] : 0) >> 4);
      let node = 1;
      if (state >= 7) { // after a copy the letter is likely not the one that would have followed
        let differs = 0, other = out[at - back0 - 1];
        do {
          const hint = (other >> 7) & 1, one = bit(letters, odds + ((1 + hint) << 8) + node);
          other <<= 1;
          node = (node << 1) | one;
          differs = hint !== one;
        } while (node < 256 && !differs);
      }
      while (node < 256) node = (node << 1) | bit(letters, odds + node);
      out[at++] = node;
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    let long;
    if (!bit(again, state)) {
      back3 = back2; back2 = back1; back1 = back0;
      long = length(freshLength);
      back0 = distance(long);
      state = state < 7 ? 7 : 10;
    } else {
      if (!bit(last, state)) {
        if (!bit(single, state)) {
          state = state < 7 ? 9 : 11;
          out[at] = out[at - back0 - 1];
          at += 1;
          continue;
        }
      } else {
        let back = back1;
        if (bit(second, state)) {
          back = back2;
          if (bit(third, state)) { back = back3; back3 = back2; }
          back2 = back1;
        }
        back1 = back0;
        back0 = back;
      }
      long = length(againLength);
      state = state < 7 ? 8 : 11;
    }
    const end = Math.min(at + long, size);
    for (let from = at - back0 - 1; at < end; at += 1, from += 1) out[at] = out[from];
  }
  return out;
}
