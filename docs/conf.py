"""How the manual is built: offline, with nothing that asks another host for anything.

Formulas become MathML by docutils' own translator, so that no script has to be fetched to
show them.  The reference pages are written from the code before each build and are kept
out of the repository: they cannot be stale.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from docutils import nodes
from docutils.utils.math.latex2mathml import tex2mathml
from sphinx.application import Sphinx
from sphinx.util.math import get_node_equation_number

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "src"))
sys.path.insert(0, str(HERE.parent / "tools"))

from make_manual_reference import write_reference  # noqa: E402 - found by the path above
from sleevewright import __version__  # noqa: E402 - likewise

project = "Sleevewright"
release = version = __version__
copyright = "the Sleevewright contributors"  # noqa: A001 - the name that Sphinx reads
language = "en"

extensions = ["myst_parser"]
myst_enable_extensions = ["dollarmath", "deflist", "colon_fence", "fieldlist"]
myst_heading_anchors = 3
myst_links_external_new_tab = False
exclude_patterns = ["_build", "_theme", "sources", "reference/made/README.md"]
suppress_warnings: list[str] = []
nitpicky = True

html_theme = "bench"
html_theme_path = ["_theme"]
html_static_path = ["../src/sleevewright/sheets/fonts"]
html_title = "Sleevewright manual"
html_use_index = False
html_copy_source = False
html_show_sourcelink = False
html_math_renderer = "mathml"
pygments_style = "bw"


def visit_inline(self: Any, node: nodes.math) -> None:
    """Put a formula into a line of text."""
    self.body.append(tex2mathml(node.astext(), as_block=False))
    raise nodes.SkipNode


def visit_block(self: Any, node: nodes.math_block) -> None:
    """Put a formula on a line of its own, with its number where it has one."""
    self.body.append(self.starttag(node, "div", CLASS="math"))
    if node["number"]:
        self.body.append(f'<span class="eqno">({get_node_equation_number(self, node)})</span>')
    self.body.append(tex2mathml(node.astext(), as_block=True))
    self.body.append("</div>\n")
    raise nodes.SkipNode


def make_reference(app: Sphinx) -> None:
    """Write the pages that are made from the code."""
    write_reference(Path(app.srcdir) / "reference" / "made")


def keep_schema(app: Sphinx, failure: Exception | None) -> None:
    """Lay the schema of the job file beside the page that names it."""
    if failure is None:
        schema = Path(app.srcdir) / "reference" / "job-schema.json"
        (Path(app.outdir) / "reference" / schema.name).write_bytes(schema.read_bytes())


def setup(app: Sphinx) -> dict[str, bool]:
    """Register the formulas' renderer and the reference pages."""
    app.add_html_math_renderer("mathml", (visit_inline, None), (visit_block, None))
    app.connect("builder-inited", make_reference)
    app.connect("build-finished", keep_schema)
    return {"parallel_read_safe": True, "parallel_write_safe": True}
