"""Runs a command; once more where a signal ended it. node 20 now and then crashes in its own compiler of WebAssembly;
a test that fails says so by its exit code and is not run again."""
import subprocess
import sys

for last in (False, True):
    code = subprocess.run(sys.argv[1:]).returncode
    if code >= 0 or last:
        sys.exit(code if code >= 0 else 128 - code)
    print(f"ended by signal {-code}: once more", file=sys.stderr)
