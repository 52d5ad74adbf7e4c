"""Sets the model of a dossier as one page for a browser: no script, nothing from outside, every text escaped."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from html import escape
from typing import Any

from staydown.outputs.printed_math import mathml
from staydown.pictures.style import FONT, HOLD, INK, RULE, SOFT

POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:"
STYLE = f"""
*{{box-sizing:border-box}}
body{{margin:0 auto;max-width:52rem;padding:1.5rem 1.25rem 4rem;color:{INK};background:#fff;
font:400 1rem/1.45 '{FONT}',system-ui,sans-serif;font-variant-numeric:tabular-nums;overflow-wrap:anywhere}}
h1,h2,h3{{line-height:1.2;font-weight:600;margin:2.2em 0 .5em}}
h1{{font-size:1.9rem;margin-top:.2em;padding-bottom:.35em;border-bottom:3px solid {INK}}}
h2{{font-size:1.45rem}} h3,.minor{{font-size:1.08rem;margin:1.6em 0 .4em}}
p{{margin:.5em 0}} .lead{{font-size:1.25rem}} .note,.fine,figcaption,.source{{color:{SOFT};font-size:.86rem}}
.stamp{{color:{SOFT};font-size:.86rem;margin:0}}
ul,ol{{margin:.3em 0 .8em;padding-left:1.3em}} li{{margin:.25em 0}} .small{{font-size:.92rem}}
figure{{margin:1.2em 0}} figure svg{{width:100%;height:auto;display:block}} figure.half svg{{max-width:24rem}}
.scroll{{overflow-x:auto}}
table{{border-collapse:collapse;width:100%;font-size:.86rem;margin:.3em 0}}
caption{{text-align:left;font-weight:600;font-size:1.08rem;padding:.8em 0 .35em}}
th,td{{padding:.22em .5em .22em 0;vertical-align:top;text-align:left}}
th{{border-top:1.5px solid {INK};border-bottom:1px solid {INK};vertical-align:bottom;font-weight:600}}
tbody tr:last-child td{{border-bottom:1px solid {RULE}}} .ruled td{{border-bottom:1px solid {RULE};height:2.2em}}
.right{{text-align:right}} td.narrow{{white-space:nowrap}} th{{overflow-wrap:normal}}
dl{{display:grid;grid-template-columns:minmax(7rem,max-content) 1fr;gap:.2em 1em;margin:.4em 0;font-size:.92rem}}
dt{{color:{SOFT}}} dd{{margin:0}}
.beside{{display:grid;grid-template-columns:1fr 1fr;gap:0 1.6rem}} .beside>*{{min-width:0}}
.formulas{{columns:2;column-gap:2rem;font-size:.86rem}} .formula{{break-inside:avoid;margin:0 0 .9em}}
.formula b{{font-weight:600}} math{{font-size:1.1em;margin-left:.6em}}
a{{color:{HOLD}}} footer{{margin-top:3rem;padding-top:.6em;border-top:1px solid {RULE}}}
@media (max-width:44rem){{.beside{{grid-template-columns:1fr}} .formulas{{columns:1}}}}
@media print{{body{{max-width:none;padding:0;font-size:9pt}} figure,.formula,tr{{break-inside:avoid}}
h1,h2,h3,caption{{break-after:avoid}} .scroll{{overflow:visible}} a{{color:inherit;text-decoration:none}}
@page{{margin:16mm 15mm}}}}
"""


def dossier_html(model: Mapping[str, Any], faces: Mapping[int, str]) -> str:
    """Return the page.

    Parameters
    ----------
    model : mapping
        A dossier whose charts are drawn.
    faces : mapping
        The shipped face in base64, by weight.
    """
    fonts = "".join(
        f"@font-face{{font-family:'{FONT}';font-weight:{weight};"
        f"src:url(data:font/ttf;base64,{face}) format('truetype')}}"
        for weight, face in sorted(faces.items())
    )
    title, word = escape(model["title"]), escape(model["word"])
    stamp = f"job {escape(model['short_hash'])} · staydown {escape(model['version'])}"
    body = _blocks(model["blocks"])
    return (
        f'<!DOCTYPE html>\n<html lang="{escape(model["language"])}">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{escape(POLICY)}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title} {word}</title>\n<style>{fonts}{STYLE}</style>\n</head>\n<body>\n"
        f'<p class="stamp">Will it stay on the roof? A dossier of what was proven and what was assumed · {stamp}</p>\n'
        f"<main>\n{body}\n</main>\n"
        f'<footer class="stamp">job {escape(model["hash"])} · staydown {escape(model["version"])}</footer>\n'
        "</body>\n</html>\n"
    )


def _blocks(blocks: Sequence[Mapping[str, Any]], level: int = 1) -> str:
    """Return blocks one after another; level: of the heading that they stand under, so that none is left out."""
    told = []
    for block in blocks:
        if block["kind"] == "heading":
            level = int(block["level"]) + 1
        told.append(SETTERS[block["kind"]](block, level))
    return "\n".join(told)


def _title(words: str, level: int) -> str:
    """Return the title of a list or of facts: a heading one below the one that it stands under."""
    below = min(level + 1, 3)
    return f'<h{below} class="minor">{escape(words)}</h{below}>' if words else ""


def _verdict(block: Mapping[str, Any], _: int) -> str:
    texts = "".join(f"<p>{escape(words)}</p>" for words in block["texts"])
    name, word = escape(block["name"]), escape(block["word"])
    return f'<h1>{name}: {word}</h1><p class="lead">{escape(block["lead"])}</p>{texts}'


def _heading(block: Mapping[str, Any], level: int) -> str:
    aside = f": {escape(block['aside'])}" if block["aside"] else ""
    return f"<h{level}>{escape(block['text'])}{aside}</h{level}>"


def _text(block: Mapping[str, Any], _: int) -> str:
    kind = "" if block["style"] == "plain" else f' class="{escape(block["style"])}"'
    return f"<p{kind}>{escape(block['text'])}</p>"


def _list(block: Mapping[str, Any], level: int) -> str:
    tag = "ol" if block["numbered"] else "ul"
    items = "".join(f"<li>{escape(words)}</li>" for words in block["items"])
    kind = ' class="small"' if block["small"] else ""
    return f"{_title(block['title'], level)}<{tag}{kind}>{items}</{tag}>"


def _table(block: Mapping[str, Any], _: int) -> str:
    kinds = [
        " ".join(["right"] * (column["side"] == "right") + ["narrow"] * (column["share"] == 0.0))
        for column in block["columns"]
    ]
    sides = [f' class="{kind}"' if kind else "" for kind in kinds]
    heads = "".join(
        f'<th scope="col"{side}>{escape(column["head"])}</th>'
        for column, side in zip(block["columns"], sides, strict=True)
    )
    rows = "".join(
        "<tr>"
        + "".join(f"<td{side}>{escape(words)}</td>" for words, side in zip(row, sides, strict=True))
        + "</tr>"
        for row in block["rows"]
    )
    note = f'<p class="note">{escape(block["note"])}</p>' if block["note"] else ""
    kind = ' class="ruled"' if block["ruled"] else ""
    return (
        f'<div class="scroll" tabindex="0" role="region" aria-label="{escape(block["title"])}"><table{kind}>'
        f"<caption>{escape(block['title'])}</caption><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>{note}"
    )


def _facts(block: Mapping[str, Any], level: int) -> str:
    rows = "".join(f"<dt>{escape(key)}</dt><dd>{escape(value)}</dd>" for key, value in block["rows"])
    return f"{_title(block['title'], level)}<dl>{rows}</dl>"


def _figure(block: Mapping[str, Any], _: int) -> str:
    """Return a drawing in its place; one that does not name itself (a chart) is named by its group."""
    caption = f"<figcaption>{escape(block['caption'])}</figcaption>" if block["caption"] else ""
    kind = ' class="half"' if block["width"] < 300.0 else ""
    drawn, name = block["svg"], escape(f"{block['title']}. {block['alt']}")
    if "<title>" not in drawn[:2000]:
        drawn = f'<div role="img" aria-label="{name}">{drawn}</div>'
    return f"<figure{kind}>{drawn}{caption}</figure>"


def _formulas(block: Mapping[str, Any], _: int) -> str:
    groups = "".join(
        f'<h3>{escape(group["title"])}</h3><div class="formulas">{"".join(map(_formula, group["formulas"]))}</div>'
        for group in block["groups"]
    )
    after = "".join(
        f'<h3>{escape(group["title"])}</h3><ul class="small">'
        + "".join(f"<li>{escape(words)}</li>" for words in group["items"])
        + "</ul>"
        for group in block["after"]
    )
    return groups + after


def _formula(formula: Mapping[str, Any]) -> str:
    name, source = escape(formula["name"]), escape(formula["source"])
    if "equation" not in formula:
        results = ", ".join(_amount(result) for result in formula["results"])
        told = f"{escape(formula['method'])}: {results}"
    else:
        values = ", ".join(_amount(value) for value in formula["values"])
        result = formula["result"]
        people = f" ({escape(result['people'])})" if result["people"] else ""
        told = f"{mathml(formula['equation'])}<br>{values}: <b>{_amount(result)}</b>{people}"
    return f'<div class="formula"><b>{name}</b> {told}. <span class="source">{source}</span></div>'


def _amount(value: Mapping[str, Any]) -> str:
    unit = f" {escape(value['unit'])}" if value["unit"] else ""
    return f"{escape(value['symbol'])} = {escape(value['shown'])}{unit}"


def _beside(block: Mapping[str, Any], level: int) -> str:
    left, right = (_blocks(block[side], level) for side in ("left", "right"))
    return f'<div class="beside"><div>{left}</div><div>{right}</div></div>'


def _together(block: Mapping[str, Any], level: int) -> str:
    return f"<section>{_blocks(block['blocks'], level)}</section>"


SETTERS: dict[str, Callable[[Mapping[str, Any], int], str]] = {
    "verdict": _verdict,
    "heading": _heading,
    "text": _text,
    "list": _list,
    "table": _table,
    "facts": _facts,
    "figure": _figure,
    "formulas": _formulas,
    "beside": _beside,
    "together": _together,
}
