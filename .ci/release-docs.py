#!/usr/bin/python3
"""Writes the README and the documents as pages that open without a network.

    release-docs.py FOLDER

FOLDER holds what a release is packed from. Each page of README.md and docs/*.md
becomes HTML in the same place; pictures that a page shows are copied. A link to
a page becomes a link to its HTML; a link to what the release does not carry
(source files) becomes plain text. A picture that is missing is an error.
"""
import re
import shutil
import sys
from pathlib import Path

import markdown

STYLE = """
body { max-width: 50rem; margin: 2rem auto; padding: 0 1rem; font: 1rem/1.5 sans-serif; color: #222; background: #fff }
pre, code { font: 0.9rem/1.4 monospace; background: #f2f2ef }
pre { padding: 0.7rem; overflow-x: auto }
table { border-collapse: collapse; display: block; overflow-x: auto }
td, th { border: 1px solid #ccc; padding: 0.3rem 0.6rem; text-align: left; vertical-align: top }
img { max-width: 100% }
@media (prefers-color-scheme: dark) {
  body { color: #ddd; background: #1b1b1a } pre, code { background: #2a2a28 } a { color: #8bc4d8 } td, th { border-color: #555 }
}
"""

root = Path(__file__).resolve().parent.parent
out = Path(sys.argv[1])
pages = [Path("README.md"), Path("examples/README.md"), *sorted(p.relative_to(root) for p in root.glob("docs/*.md"))]


def target(page, link):
    """What a link of a page leads to in the release, None for nothing there."""
    path, mark, part = link.partition("#")
    if re.match(r"[a-z]+:", link) or not path:
        return link
    place = (page.parent / path).as_posix()
    place = Path(re.sub(r"[^/]+/\.\./", "", place))
    if place in pages:
        return path.removesuffix(".md") + ".html" + mark + part
    if (out / place).exists():
        return link
    return None


def carry(page, picture):
    place = page.parent / picture
    (out / place).parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(root / place, out / place)


for page in pages:
    html = markdown.markdown((root / page).read_text(encoding="utf-8"), extensions=["tables", "fenced_code", "toc"])
    for picture in re.findall(r'<img [^>]*?src="([^":]+)"', html):
        carry(page, picture)

    def link(m):
        to = target(page, m[1])
        return f'<a href="{to}">{m[2]}</a>' if to else m[2]

    html = re.sub(r'<a href="([^"]+)">(.*?)</a>', link, html, flags=re.S)
    title = re.search(r"<h1[^>]*>(.*?)</h1>", html, re.S)[1]
    to = out / page.with_suffix(".html")
    to.parent.mkdir(parents=True, exist_ok=True)
    to.write_text(
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><meta name="viewport" '
        f'content="width=device-width"><title>{re.sub("<[^>]+>", "", title)}</title><style>{STYLE}</style></head>'
        f"<body>\n{html}\n</body></html>\n",
        encoding="utf-8",
    )
