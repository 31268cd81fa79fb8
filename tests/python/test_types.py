"""The stub files say what the module has."""

import ast
import inspect
import pathlib
import shutil
import subprocess
import tempfile
import unittest

import slewtime
from support import DAILY, EXAMPLES

FOLDER = pathlib.Path(slewtime.__file__).parent


def classes_of(stub):
    tree = ast.parse((FOLDER / stub).read_text())
    return {node.name: node for node in tree.body if isinstance(node, ast.ClassDef)}


class Stubs(unittest.TestCase):
    def test_methods_and_their_arguments(self):
        checked = 0
        for name, stub in classes_of("__init__.pyi").items():
            for node in stub.body:
                if not isinstance(node, ast.FunctionDef):
                    continue
                real = inspect.getattr_static(getattr(slewtime, name), node.name)
                if isinstance(real, property):
                    continue
                real = getattr(real, "__func__", real)
                said = [a.arg for a in node.args.args + node.args.kwonlyargs]
                self.assertEqual(said, list(inspect.signature(real).parameters),
                                 f"{name}.{node.name}")
                checked += 1
        self.assertGreater(checked, 30)

    def test_every_public_method_is_in_the_stub(self):
        stubs = classes_of("__init__.pyi")
        for cls in (slewtime.Scenario, slewtime.Machine):
            said = {node.name for node in stubs[cls.__name__].body
                    if isinstance(node, ast.FunctionDef)}
            there = {name for name in vars(cls) if name[0] != "_"}
            self.assertEqual(there - said, set())

    def test_fields_of_records(self):
        stubs = classes_of("records.pyi")
        scenario = slewtime.Scenario.read(DAILY)
        run, margin = scenario.run(), scenario.margin(samples=16)
        for record in (run.stow, run.events[0], margin, margin.side[0].need,
                       slewtime.Machine(scenario).look(), scenario.offset(64).told[0]):
            said = [node.target.id for node in stubs[type(record).__name__].body]
            self.assertEqual(said, list(record._asdict()))

    @unittest.skipUnless(shutil.which("mypy"), "mypy is not installed")
    def test_mypy(self):
        def check(text):
            with tempfile.TemporaryDirectory() as folder:
                path = pathlib.Path(folder) / "use.py"
                path.write_text(text)
                return subprocess.run(["mypy", "--strict", "--ignore-missing-imports", path],
                                      cwd=folder, capture_output=True, text=True)

        good = check((EXAMPLES / "embed/truck.py").read_text())
        self.assertEqual(good.returncode, 0, good.stdout)
        for wrong in ("deploy.angel", "deploy.says + 1", "events[0].time.upper()"):
            bad = check(f"import slewtime\nslewtime.Scenario.read('x').run().{wrong}\n")
            self.assertIn("use.py:2: error", bad.stdout)


if __name__ == "__main__":
    unittest.main()
