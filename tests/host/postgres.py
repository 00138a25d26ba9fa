"""A PostgreSQL server for the tests, in a temporary folder, that answers on a socket of its own there and nowhere else.

usage: postgres.py start FILE    starts one, writes its address into FILE; a guardian stops it when the caller is gone
       postgres.py stop FILE     stops it and takes all of it away

The server refuses to run as root; then it runs as the user that Debian's package makes for it.
"""
import os
import pathlib
import pwd
import shutil
import signal
import subprocess
import sys
import tempfile
import time

PACKAGE_USER = "postgres"
# What is lost in a power cut does not matter here, and dozens of small transactions do.
SETTINGS = ["listen_addresses=", "fsync=off", "full_page_writes=off", "max_connections=60", "shared_buffers=32MB"]


def programs():
    """The folder of the newest server that is installed."""
    found = sorted(pathlib.Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: int(path.parts[-3]))
    if found:
        return found[-1].parent
    on_path = shutil.which("initdb")
    if on_path:
        return pathlib.Path(on_path).parent
    sys.exit("no PostgreSQL server is installed: packages.txt names it")


def as_server_user():
    """For subprocess: as whom the server runs."""
    return {"user": PACKAGE_USER, "group": PACKAGE_USER, "extra_groups": []} if os.geteuid() == 0 else {}


def run(*command):
    done = subprocess.run(command, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, cwd="/",
                          text=True, check=False, **as_server_user())
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}\n{done.stdout}")


def take_away(folder):
    subprocess.run([programs() / "pg_ctl", "-D", folder / "data", "-m", "immediate", "-w", "stop"], cwd="/",
                   stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False,
                   **as_server_user())
    shutil.rmtree(folder, ignore_errors=True)


def guard(folder, caller):
    """In a process of its own: stops the server when the caller, and nobody stopped it, is gone."""
    if os.fork() != 0:
        return
    os.setsid()
    for stream in (0, 1, 2):
        os.dup2(os.open(os.devnull, os.O_RDWR), stream)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    while folder.exists():
        if not pathlib.Path(f"/proc/{caller}").exists():
            take_away(folder)
        time.sleep(0.5)
    os._exit(0)


def start(file):
    stop(file)
    folder = pathlib.Path(tempfile.mkdtemp(prefix="strikebed-pg-"))
    if os.geteuid() == 0:
        owner = pwd.getpwnam(PACKAGE_USER)
        os.chown(folder, owner.pw_uid, owner.pw_gid)
    try:
        # The name of the user is not that of whoever runs the tests: all come in by the socket.
        run(programs() / "initdb", "-D", folder / "data", "-A", "trust", "-U", "grower", "-E", "UTF8", "--locale=C",
            "--no-sync")
        options = " ".join(f"-c {setting}" for setting in SETTINGS)
        run(programs() / "pg_ctl", "-D", folder / "data", "-l", folder / "log", "-o", f"-k {folder} {options}", "-w",
            "start")
    except BaseException:
        take_away(folder)
        raise
    folder.chmod(0o755)
    file.write_text(f"postgresql://grower@/postgres?host={folder}\n")
    guard(folder, os.getppid())


def stop(file):
    if not file.exists():
        return
    take_away(pathlib.Path(file.read_text().strip().partition("?host=")[2]))
    file.unlink()


def main():
    if len(sys.argv) != 3 or sys.argv[1] not in ("start", "stop"):
        sys.exit(__doc__)
    {"start": start, "stop": stop}[sys.argv[1]](pathlib.Path(sys.argv[2]))


if __name__ == "__main__":
    main()
