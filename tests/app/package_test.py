"""Packages, unpacked into empty folders and used from elsewhere. Usage: package_test.py PATH_OF_trammel BUILD_FOLDER"""
import pathlib
import re
import shutil
import subprocess
import sys
import tarfile
import unittest

BUILD = pathlib.Path(sys.argv.pop(2)).resolve()

from program_case import PROGRAM, SOURCE, Case, environment  # noqa: E402  (it takes the program's path)


class Installed(Case):
    def command(self, *arguments, cwd=None):
        done = subprocess.run([str(a) for a in arguments], cwd=cwd or self.folder, capture_output=True, text=True,
                              timeout=300, env=environment())
        self.assertEqual(done.returncode, 0, f"{arguments}\n{done.stdout}\n{done.stderr}")
        return done.stdout

    def check_installed(self, prefix):
        """A whole session with nothing but what lies under a prefix, from a folder elsewhere."""
        program = prefix / "bin" / "trammel"
        share = prefix / "share" / "trammel"
        elsewhere = self.folder / "elsewhere"
        elsewhere.mkdir(exist_ok=True)
        self.assertNotIn(str(SOURCE).encode(), program.read_bytes())
        self.command(program, "search", share / "trail-150.yaml", "--units", "1", "--out", prefix.name, cwd=elsewhere)
        for name in ["index.html", "assets/LICENSE", "layouts/01/layout.yaml"]:
            self.assertTrue((elsewhere / prefix.name / name).exists() or name.startswith("assets"), name)
        drafted = self.command(program, "draft", "--kind", "trail", cwd=elsewhere)
        (elsewhere / "mine.yaml").write_text(drafted)
        self.command(program, "check", "mine.yaml", cwd=elsewhere)
        self.command(program, "check", share / "which-linkage-150.yaml", cwd=elsewhere)
        # The program carries templates and schema; what is installed beside it says the same.
        names = [line.split()[0] for line in self.command(program, "linkages").splitlines()]
        self.assertEqual(sorted(names), sorted(p.stem for p in (share / "linkages").glob("*.yaml")))
        for name in names:
            self.assertEqual(self.command(program, "linkages", name), (share / "linkages" / f"{name}.yaml").read_text())
        self.assertEqual(self.command(program, "schema"), (share / "trammel.schema.json").read_text())
        self.assertEqual(self.command(program, "schema", "--inch"), (share / "trammel-inch.schema.json").read_text())
        docs = prefix / "share" / "doc" / "trammel"
        for name in ["copyright", "README.md", "docs/brief.md", "charts/LICENSE", "charts/NOTICE"]:
            self.assertTrue((docs / name).exists(), name)
        self.assertTrue(list(prefix.rglob("man1/trammel.1*")))
        self.assertTrue((prefix / "share" / "bash-completion" / "completions" / "trammel").exists())

    def test_install(self):
        prefix = self.folder / "prefix"
        self.command("cmake", "--install", BUILD, "--prefix", prefix)
        self.check_installed(prefix)

    def test_tar(self):
        self.command("cpack", "-G", "TGZ", "-B", self.folder / "out", cwd=BUILD)
        (archive,) = (self.folder / "out").glob("*.tar.gz")
        with tarfile.open(archive) as tar:
            tar.extractall(self.folder / "root")
        (top,) = (self.folder / "root").iterdir()
        self.check_installed(top / "usr")

    @unittest.skipUnless(shutil.which("dpkg-deb") and shutil.which("dpkg-shlibdeps"), "no Debian tools here")
    def test_deb(self):
        self.command("cpack", "-G", "DEB", "-B", self.folder / "out", cwd=BUILD)
        (package,) = (self.folder / "out").glob("*.deb")
        self.command("dpkg-deb", "-x", package, self.folder / "root")
        self.check_installed(self.folder / "root" / "usr")
        depends = self.command("dpkg-deb", "-f", package, "Depends")
        for library in ["libc6", "libnlopt", "libspdlog", "libyaml-cpp", "libsqlite3"]:
            self.assertIn(library, depends)


class Pages(Case):
    def test_version(self):
        said = self.run_it("--version").stdout.splitlines()
        self.assertRegex(said[0], r"\Atrammel \d+\.\d+\.\d+\Z")
        self.assertRegex(said[1], r"\Acommit ([0-9a-f]{10}(, changed)?|not known)\Z")
        self.assertRegex(said[2], r"\Ainstruction sets here: baseline(, avx2)?(, avx512)?\Z")

    @unittest.skipUnless(shutil.which("groff"), "no groff here")
    def test_manual(self):
        page = self.run_it("manual").stdout
        done = subprocess.run(["groff", "-man", "-ww", "-Tascii", "-P-c"], input=page, capture_output=True, text=True)
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        text = re.sub(".\b", "", done.stdout)  # bold and underlined letters are struck over
        for words in ["trammel draft", "--report-every", "--on-done", "EXIT STATUS", "CAUTIONS"]:
            self.assertIn(words, text)

    def test_every_option_is_in_manual_and_completions(self):
        page = self.run_it("manual").stdout.replace("\\-", "-")
        shells = {shell: self.run_it("completions", shell).stdout for shell in ["bash", "zsh", "fish"]}
        for verb in ["draft", "picture", "search", "resume", "compare", "check", "curves", "linkages", "schema"]:
            text = self.run_it(verb, "--help").stdout
            for option in {word for word in text.replace(",", " ").split() if word.startswith("--") and word != "--from:"}:
                name = option.rstrip(":.);")
                if f"\n  {name} " not in text and f",{name} " not in text:
                    continue
                self.assertIn(name, page)
                for shell, script in shells.items():
                    self.assertIn(name.lstrip("-") if shell == "fish" else name, script, shell)
        self.refused("completions", "csh", says="csh")
        self.refused("linkages", "sixbar", says="did you mean 'six_bar'?")

    @unittest.skipUnless(shutil.which("bash"), "no bash here")
    def test_completions_in_bash(self):
        (self.folder / "c.bash").write_text(self.run_it("completions", "bash").stdout)
        def complete(*words):
            line = " ".join(f"'{w}'" for w in words)
            return subprocess.run(["bash", "-c", f"source c.bash; COMP_WORDS=({line}); COMP_CWORD={len(words) - 1}; "
                                   "_trammel; echo \"${COMPREPLY[@]}\""], cwd=self.folder, capture_output=True,
                                  text=True).stdout.split()
        self.assertEqual(complete("trammel", "dr"), ["draft"])
        self.assertEqual(complete("trammel", "search", "--report"), ["--report-every"])
        self.assertEqual(complete("trammel", "draft", "--fr"), ["--from"])
        self.assertEqual(complete("trammel", "search", "c.b"), ["c.bash"])


if __name__ == "__main__":
    unittest.main()
