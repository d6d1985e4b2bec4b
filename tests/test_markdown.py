"""Markdown of finished pages, as one would write it by hand."""

from __future__ import annotations

import pytest

from refgen.markdown import markdown_of


@pytest.mark.parametrize(
    ("html", "markdown"),
    [
        ("<h1>Jets</h1>\n<p>One <b>two</b>.</p>", "# Jets\n\nOne **two**.\n"),
        ('<p><a href="a.html#b">To <i>b</i></a></p>', "[To *b*](<a.html#b>)\n"),
        ('<h2 id="_stop">Stop</h2>', '## <a id="_stop"></a>Stop\n'),
        ('<section id="x"><h2>Y</h2></section>', '## <a id="x"></a>Y\n'),
        ("<ul><li>One</li><li>Two</li></ul>", "-   One\n-   Two\n"),
        (
            '<ol><li id="a"><p>One</p><p>More</p></li><li>Two</li></ol>',
            '1.  <a id="a"></a>One\n\n    More\n\n2.  Two\n',
        ),
        ("<ul><li>One<ul><li>In</li></ul></li></ul>", "-   One\n\n    -   In\n"),
        (
            '<div class="caution"><b>DANGER</b> <span>Keep off.</span></div>',
            "> **DANGER** Keep off.\n",
        ),
        (
            '<dl><div id="w"><dt>Worn <small>Old</small></dt><dd>8 psi</dd></div></dl>',
            '-   <a id="w"></a>**Worn** *Old* 8 psi\n',
        ),
        (
            "<table><thead><tr><th>A</th><th>B</th></tr></thead><tbody>"
            '<tr id="r"><td colspan="2"><span>1</span><span>2|3</span></td></tr></tbody></table>',
            '| A | B |\n| --- | --- |\n| <a id="r"></a>1<br>2&#124;3 |  |\n',
        ),
        ("<p>Shown</p><p hidden>Not</p><button>Press</button>", "Shown\n"),
        ("<details><summary>More</summary><p>Told</p></details>", "**More**\n\nTold\n"),
        ('<figure><svg viewBox="0 0 1 1"><path d="M0 0"/></svg></figure>',
         '<figure><svg viewBox="0 0 1 1"><path d="M0 0"/></svg></figure>\n'),
    ],
)  # fmt: skip
def test_what_markdown_has_words_for_becomes_markdown(html: str, markdown: str) -> None:
    assert markdown_of(html) == markdown


@pytest.mark.parametrize(
    ("text", "markdown"),
    [
        ("2 * 3 _ 4 [x] `y` \\ #", "2 \\* 3 \\_ 4 \\[x\\] \\`y\\` \\\\ \\#"),
        (
            "&lt;script&gt;x()&lt;/script&gt; &amp;amp;",
            "&lt;script&gt;x()&lt;/script&gt; &amp;amp;",
        ),
        ("{{ site }} {% x %}", "&#123;&#123; site &#125;&#125; &#123;% x %&#125;"),
        ("1. First", "1\\. First"),
        ("- dash", "\\- dash"),
        ("+ plus", "\\+ plus"),
        ("# heading", "\\# heading"),
        ("two\n   lines", "two lines"),
    ],
)
def test_text_is_text_whatever_it_looks_like(text: str, markdown: str) -> None:
    assert markdown_of(f"<p>{text}</p>") == f"{markdown}\n"


def test_emphasis_never_runs_into_a_word() -> None:
    assert markdown_of("<p>a<b>b</b>c</p>") == "a **b** c\n"


def test_an_exclamation_before_a_link_makes_no_picture() -> None:
    assert markdown_of('<p>Stop!<a href="x.html">x</a></p>') == "Stop\\![x](<x.html>)\n"
