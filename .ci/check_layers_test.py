#!/usr/bin/env python3
"""check_layers.py refuses what it should, on small trees made here."""
import pathlib
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).parent))
import check_layers  # noqa: E402

LAYERS = "base:\nmodel: base   # the trade\nsearch: base model\nsheets: base model\n"
HEADERS = "hpdf.h src/sheets/pdf*.cpp\nunistd.h src/base/files.cpp\n"


class Layers(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.root = pathlib.Path(self.folder.name)
        self.write(".ci/layers.txt", LAYERS)
        self.write(".ci/headers.txt", HEADERS)
        self.write("src/base/ids.h", "#pragma once\n#include <vector>\n")
        self.write("src/model/plan.h", '#pragma once\n#include "base/ids.h"\n')

    def tearDown(self):
        self.folder.cleanup()

    def write(self, name, text):
        path = self.root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")

    def wrong(self):
        layers = check_layers.read_layers(self.root / ".ci" / "layers.txt")
        headers = check_layers.read_headers(self.root / ".ci" / "headers.txt")
        return list(check_layers.wrong_includes(self.root, layers, headers))

    def test_a_tree_in_order_is_let_through(self):
        self.write("src/search/planner.cpp", '#include "model/plan.h"\n#include "base/ids.h"\n')
        self.write("src/sheets/pdf.cpp", '#include <hpdf.h>\n#include "model/plan.h"\n')
        self.assertEqual(self.wrong(), [])

    def test_a_call_upwards_is_named_with_file_line_and_both_folders(self):
        self.write("src/search/planner.h", "#pragma once\n")
        self.write("src/model/check.cpp", '#include "model/plan.h"\n\n#include "search/planner.h"\n')
        self.assertEqual(
            self.wrong(),
            ["src/model/check.cpp:3: model may not include search (it may include base)"])

    def test_two_folders_side_by_side_do_not_know_each_other(self):
        self.write("src/search/planner.h", "#pragma once\n")
        self.write("src/sheets/slip.h", '#include "search/planner.h"\n')
        self.assertEqual(
            self.wrong(),
            ["src/sheets/slip.h:1: sheets may not include search (it may include base, model)"])

    def test_a_library_outside_its_one_file_is_refused(self):
        self.write("src/sheets/slip.cpp", "#include <hpdf.h>\n")
        self.assertEqual(
            self.wrong(),
            ["src/sheets/slip.cpp:1: <hpdf.h> may be included by src/sheets/pdf*.cpp only"])

    def test_a_library_nobody_listed_is_refused(self):
        self.write("src/base/files.cpp", "#include <boost/any.hpp>\n#include <unistd.h>\n")
        self.assertEqual(
            self.wrong(),
            ["src/base/files.cpp:1: <boost/any.hpp> is not in .ci/headers.txt"])

    def test_a_folder_nobody_listed_is_refused(self):
        self.write("src/helpers/bits.h", "#pragma once\n")
        self.assertEqual(self.wrong(),
                         ["src/helpers/bits.h: folder helpers is not in .ci/layers.txt"])

    def test_an_include_not_written_from_src_is_refused(self):
        self.write("src/model/check.cpp", '#include "plan.h"\n')
        self.assertEqual(
            self.wrong(),
            ['src/model/check.cpp:1: "plan.h" is not written from src/ ("model/…")'])

    def test_a_list_with_a_circle_is_refused(self):
        self.write(".ci/layers.txt", "base: model\nmodel: base\n")
        with self.assertRaises(ValueError):
            check_layers.read_layers(self.root / ".ci" / "layers.txt")

    def test_the_exit_status_tells(self):
        self.assertEqual(check_layers.main([str(self.root)]), 0)
        self.write("src/base/odd.h", '#include "model/plan.h"\n')
        self.assertEqual(check_layers.main([str(self.root)]), 1)


if __name__ == "__main__":
    unittest.main()
