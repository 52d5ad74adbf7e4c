"""How a phone comes in: a code that is good once, shown here as a picture to scan, typed or scanned there."""

from __future__ import annotations

import io
from html import escape

import segno


def qr_text(address: str) -> str:
    """Return an address as a picture to scan, in the characters of a terminal."""
    out = io.StringIO()
    segno.make_qr(address, error="m").terminal(out, compact=True)
    return out.getvalue()


def qr_svg(address: str) -> str:
    """Return an address as a drawing to scan, dark on light in both themes."""
    code = segno.make_qr(address, error="m")
    return code.svg_inline(
        scale=6, border=3, dark="#000000", light="#fefefe", title="Code to scan with the phone"
    )


def page_text(code: str, trouble: str) -> str:
    """Return the page of a phone that is not paired: plain markup, no script."""
    said = f'<p class="trouble" role="alert">{escape(trouble)}</p>' if trouble else ""
    typed = escape(code, quote=True)
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Pair this phone – staydown</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<link rel="stylesheet" href="{PAIR_LOOK}"></head><body><main><h1>Pair this phone</h1>'
        f"{said}<p>The code is on the machine that runs staydown. It is good once, for five minutes.</p>"
        '<form method="post" action="/pair"><label for="code">Code</label>'
        f'<input id="code" name="code" value="{typed}" autocomplete="off" autocapitalize="characters" '
        'maxlength="20" required><p><button>Pair this phone</button></p></form></main></body></html>'
    )


def refusal_text(what: str, why: str) -> str:
    """Return a page that says what was not done: plain markup, no script."""
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(what)} – staydown</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<link rel="stylesheet" href="{PAIR_LOOK}"></head><body><main><h1>{escape(what)}</h1>'
        f"<p>{escape(why)}</p><p>Go back, and try again.</p></main></body></html>"
    )


PAIR_LOOK = "/pair.css"
PAIR_STYLE = """
body { font: 19px/1.45 sans-serif; margin: 0 auto; max-width: 28em; padding: 24px; color: #17232d; background: #fff }
label { display: block; font-weight: 600; margin-top: 1em }
input, button { font: inherit; font-size: 1.4em; padding: .5em; width: 100%; box-sizing: border-box;
  border: 2px solid #53616d; border-radius: 4px }
button { margin-top: 1em; background: #2b6777; color: #fff; border-color: #2b6777; font-weight: 600 }
.trouble { border-left: 4px solid #9a4a1c; padding-left: 1em }
@media (prefers-color-scheme: dark) { body, input { color: #e8eef1; background: #11181d } }
"""
