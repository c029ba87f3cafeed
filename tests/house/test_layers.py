"""The house stands: imports point downwards, and `import linkkit` loads numpy and nothing heavier."""

import ast
import json
import subprocess
import sys
from graphlib import TopologicalSorter

from tree import module_name, sources

# From the ground up. A module may import from its own floor and those below; a package stands on one floor.
FLOORS = [
    {"errors", "dyads", "quantity"},
    {"linkage", "masses", "sketch", "chains"},
    {"builders", "breakdown"},
    {"constraint", "elimination", "placing", "newton", "tracing", "change_points", "rates", "singular"},
    {"motion", "redraw", "mobility", "family", "machine_reader", "machine_masses", "machine_file", "machines"},
    {"facts", "kinds", "reach", "transmission"},
    {"relative", "third_order", "loads", "reactions"},
    {
        "forces",
        "equilibrium",
        "free_body",
        "friction",
        "inertia",
        "centres",
        "polygons",
        "advantage",
        "balance",
        "flywheel",
    },
    {"running_up", "peaks"},
    {"design", "algebra"},
    {"draw"},
    {"coursework"},
    {"workbook"},
    {"marking", "solutions", "report"},
    {"cli", "workbook_server", "describe", "describe_remarks", "lesson", "briefs", "designing"},
]
# a method that hands its work to a floor above, which it loads only when called
STAIRS = {("linkkit.linkage", "linkkit.redraw")}
FLOOR_OF = {name: number for number, names in enumerate(FLOORS) for name in names}
FRONT = FLOOR_OF["forces"]  # `import linkkit as lk` brings in the floors up to here


def part(module):
    """The name under linkkit that a dotted module belongs to; empty for linkkit itself."""
    return [*module.split("."), ""][1]


def modules():
    """The names of all modules of linkkit's."""
    return {module_name(path) for path in sources()}


def imports(path, known, *, inside_functions=True):
    """Every module of linkkit's, among the known ones, that a source file imports."""
    module = module_name(path)
    package = module if path.name == "__init__.py" else module.rpartition(".")[0]
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in ast.walk(tree) if inside_functions else tree.body:
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if part_of_linkkit(alias.name))
        elif isinstance(node, ast.ImportFrom):
            yield from imported_from(node, package, known)


def imported_from(node, package, known):
    """The modules of linkkit's that one `from … import …` may load."""
    base = node.module or ""
    if node.level:
        above = package.split(".")[: len(package.split(".")) - node.level + 1]
        base = ".".join(above + ([base] if base else []))
    if part_of_linkkit(base):
        named = [f"{base}.{alias.name}" for alias in node.names]
        yield from [name for name in named if name in known] or [base]


def part_of_linkkit(module):
    return module.partition(".")[0] == "linkkit"


def graph(**options):
    """Which of linkkit's modules each of its modules imports."""
    known = modules()
    return {module_name(path): set(imports(path, known, **options)) for path in sources()}


def test_every_module_has_a_floor():
    homeless = {part(module) for module in graph()} - set(FLOOR_OF) - {""}
    assert homeless == set(), "give each new module a floor in FLOORS"


def test_imports_point_downwards():
    upward = [
        f"{module} imports {used}"
        for module, all_used in graph().items()
        for used in all_used
        if (module, used) not in STAIRS
        and part(module)
        and FLOOR_OF.get(part(used), FRONT) > FLOOR_OF.get(part(module), 0)
    ]
    assert upward == []


def test_no_module_needs_itself_to_load():
    loading = graph(inside_functions=False)
    inner = {module: used - {"linkkit", module} for module, used in loading.items() if module != "linkkit"}
    TopologicalSorter(inner).prepare()  # raises CycleError and names the circle


def loaded_by(statement):
    """The packages outside the standard library that a statement loads in a fresh Python."""
    show = "import json, sys; print(json.dumps(sorted({name.partition('.')[0] for name in sys.modules})))"
    done = subprocess.run([sys.executable, "-c", f"{statement}; {show}"], check=True, capture_output=True)
    return set(json.loads(done.stdout)) - set(sys.stdlib_module_names)


def test_import_linkkit_loads_numpy_only():
    assert loaded_by("import linkkit") - loaded_by("import numpy") == {"linkkit"}


def test_help_loads_no_command():
    statement = "import linkkit.cli as cli; cli.cli(['--help'], standalone_mode=False)"
    more = "import contextlib, io\nwith contextlib.redirect_stdout(io.StringIO()): " + statement
    heavy = {"scipy", "sympy", "matplotlib", "ipywidgets", "nbgrader", "nbformat", "jupyter_core", "pint"}
    assert loaded_by(f"exec({more!r})") & heavy == set()


def test_the_search_sees_imports_of_both_kinds(tmp_path, monkeypatch):
    written = tmp_path / "linkkit" / "workbook" / "made.py"
    written.parent.mkdir(parents=True)
    written.write_text("from ..errors import LinkageError\ndef f():\n    from linkkit import draw\n    import numpy\n")
    (tmp_path / "linkkit" / "draw.py").touch()
    monkeypatch.setattr("tree.ROOT", tmp_path)
    monkeypatch.setattr("tree.PACKAGE", tmp_path / "linkkit")
    assert set(imports(written, modules())) == {"linkkit.errors", "linkkit.draw"}
    assert set(imports(written, modules(), inside_functions=False)) == {"linkkit.errors"}
