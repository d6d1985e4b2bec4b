"""How the text of a page lies, line by line, and the ways in which a reader may make it larger.

`troubles(page)` gives what would be lost: lines off the side of the screen, cut by what holds them,
or one over another. What a table's own box scrolls, what stays in view while the rest moves under
it, and what says by an ellipsis that it goes on (`shortened` gives those) is no loss.
"""

from __future__ import annotations

from playwright.sync_api import Page

_TROUBLES = """() => {
  const wide = document.documentElement.clientWidth, found = [], lines = [];
  const text = e => e.textContent.trim().slice(0, 40);
  const said = (what, e) => found.push(`${what}: ${e.tagName} ${text(e)}`);
  const lap = (a, b) => {
    const left = Math.max(a.left, b.left), right = Math.min(a.right, b.right);
    const top = Math.max(a.top, b.top), bottom = Math.min(a.bottom, b.bottom);
    return {left, right, top, bottom, width: right - left, height: bottom - top};
  };
  const range = document.createRange();
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || !e.checkVisibility({visibilityProperty: true})) continue;
    if (e.closest('.hide, .skip, #_steps, option, textarea, noscript')) continue;
    range.selectNodeContents(walk.currentNode);
    const box = e.closest('.box');
    for (let line of range.getClientRects()) {
      const held = box || (getComputedStyle(e).textOverflow === 'ellipsis' ? e : null);
      if (held) line = lap(line, held.getBoundingClientRect());
      if (line.width < 1 || line.height < 1) continue;
      if (!box && (line.right > wide + 1 || line.left < -1)) { said('off the side', e); break; }
      let holder = null;
      for (let up = e; !box && up !== document.body && !holder; up = up.parentElement) {
        const {overflowX, overflowY} = getComputedStyle(up);
        const seen = lap(line, up.getBoundingClientRect());
        const cut = line.width - seen.width > 2 || line.height - seen.height > 6;
        if ((overflowX !== 'visible' || overflowY !== 'visible') && cut) holder = up;
      }
      if (holder) { said('cut', e); break; }
      lines.push({line, e, bar: e.closest('.bar')});
    }
  }
  lines.sort((a, b) => a.line.top - b.line.top);
  lines.forEach((a, n) => {
    for (let m = n + 1; m < lines.length && lines[m].line.top < a.line.bottom - 1; m += 1) {
      const b = lines[m], seen = lap(a.line, b.line);
      if (a.bar !== b.bar || a.e.contains(b.e) || b.e.contains(a.e)) continue;
      if ([a, b].some(x => x.e.closest('.box, .ws-now, .told-now'))) continue;
      if (seen.width > 2 && seen.height > Math.min(a.line.height, b.line.height) / 3)
        said(`over ${text(a.e)}`, b.e);
    }
  });
  const page = document.documentElement.scrollWidth;
  return page > wide ? [...found, `the page is ${page} wide on a screen of ${wide}`] : found;
}"""


def troubles(page: Page) -> list[str]:
    """Return what of the page's text would be lost to a reader, as it is shown now."""
    found: list[str] = page.evaluate(_TROUBLES)
    return found


def shortened(page: Page) -> list[str]:
    """Return the texts that are shown with an ellipsis in place of their end."""
    found: list[str] = page.evaluate(
        """() => [...document.querySelectorAll('main *, .top *, .bar *')]
          .filter(e => getComputedStyle(e).textOverflow === 'ellipsis'
            && e.scrollWidth > e.clientWidth).map(e => e.textContent)"""
    )
    return found


def set_default_size(page: Page, pixels: int) -> None:
    """Set the size of text as a reader does once in the browser's settings; 16 is the usual."""
    session = page.context.new_cdp_session(page)
    session.send("Page.setFontSizes", {"fontSizes": {"standard": pixels}})
    session.detach()


def double_text(page: Page) -> None:
    """Make all text but that of drawings twice as large in place, as a zoom of text alone does."""
    page.evaluate(
        """() => { const all = [...document.querySelectorAll('body, body *')]
             .filter(e => !e.closest('svg'));
           const sizes = all.map(e => parseFloat(getComputedStyle(e).fontSize));
           all.forEach((e, n) => { e.style.fontSize = 2 * sizes[n] + 'px'; }); }"""
    )


def space_text(page: Page, *, spaced: bool) -> None:
    """Set the spacing of WCAG 1.4.12 over whatever the page says, or take it away again."""
    page.evaluate(
        """spaced => { const sheet = new CSSStyleSheet();
           sheet.replaceSync(`* { line-height: 1.5 !important; letter-spacing: 0.12em !important;
             word-spacing: 0.16em !important } p { margin-bottom: 2em !important }`);
           document.adoptedStyleSheets = spaced ? [sheet] : []; }""",
        spaced,
    )
