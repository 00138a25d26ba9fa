"""Fails on an include in src/ that breaks the floors of the house (docs/architecture.md).

A file includes from its own folder and from the floors below, never upward and never sideways; the skins see only
nursery, host and base, the one in the browser no host; the server also reads messages of daybooks, and the command line
starts the server. Up to nursery a floor knows no disk, clock, network, thread,
environment or locale, throws nothing and catches nothing (the browser build has no exceptions), and a few libraries may
be used in one place only.

usage: include_rule.py SOURCE_FOLDER      prints file:line of every broken rule
       include_rule.py --self-test        plants bad includes and checks that each is found
"""
import pathlib
import re
import sys
import tempfile

FLOORS = [
    ["base"],
    ["climate", "evidence"],
    ["growth", "shelter", "mix"],
    ["season", "care", "daybook"],
    ["print"],
    ["nursery"],
    ["host"],
    ["cli", "server", "browser"],
]
FLOOR_OF = {folder: floor for floor, folders in enumerate(FLOORS) for folder in folders}
SKINS_SEE = {
    "cli": {"nursery", "host", "base", "server"},
    "server": {"nursery", "host", "base", "daybook"},
    "browser": {"nursery", "base"},
}
HIGHEST_PURE_FLOOR = FLOOR_OF["nursery"]

# Where only some folders (or one file) may use a library: the beginning of the include, then who.
LIBRARY_USERS = {
    "CLI/": {"cli/main.cpp"},
    "toml++/": {"nursery/toml_file.cpp"},
    "date/": {"host/time_zones.cpp"},
    "sqlite3.h": {"host/store/sqlite_database.cpp"},
    "libpq-fe.h": {"host/store/postgres_database.cpp"},
    "boost/asio": {"server/http_server.cpp"},
    "boost/beast": {"server/http_server.cpp"},
    "zlib.h": {"server/gzip.cpp"},
    "nlohmann/": {"daybook", "print", "nursery", "server", "browser"},
}
# Headers of the standard library and the system that touch the world outside the program, or its locale.
OUTSIDE_WORLD = {
    "atomic", "barrier", "clocale", "condition_variable", "csetjmp", "csignal", "cstdio", "ctime", "cwchar",
    "dirent.h", "fcntl.h", "filesystem", "fstream", "future", "iomanip", "iostream", "istream", "latch", "locale",
    "locale.h", "mutex", "ostream", "print", "pthread.h", "regex", "semaphore", "shared_mutex", "signal.h", "sstream",
    "stdio.h", "stop_token", "syncstream", "thread", "time.h", "unistd.h",
}
# What can be reached without such a header.
REACHED = re.compile(
    r"\b(?:system|steady|high_resolution|utc|tai|gps|file)_clock\b|\b(?:std|fmt)::print(?:ln)?\b"
    r"|\b(?:getenv|secure_getenv|setenv|putenv|environ|setlocale|random_device|localtime(?:_r)?|gmtime(?:_r)?|mktime"
    r"|fopen|freopen|fwrite|fread|tmpfile|ifstream|ofstream"
    r"|thread_local|jthread|(?:recursive_|shared_)?mutex|condition_variable"
    r")\b"
    r"|\bstd::(?:thread|async|locale|cin|cout|cerr|clog|regex|time|clock|system|rand)\b|\btime\((?:nullptr|NULL|0)\)")
THROWS = re.compile(r"\bthrow\b|\bcatch\s*\(|\btry\s*\{")
INCLUDE = re.compile(r'^\s*#\s*include\s*(?:"(?P<own>[^"]+)"|<(?P<other>[^>]+)>)')


def may_include(folder, other):
    if folder == other:
        return True
    if folder in SKINS_SEE:
        return other in SKINS_SEE[folder]
    return FLOOR_OF[other] < FLOOR_OF[folder]


def broken_rules_of_line(path, folder, line):
    """What is wrong with one line of src/<path>, in words; nothing when all is well."""
    pure = FLOOR_OF[folder] <= HIGHEST_PURE_FLOOR
    code = line.partition("//")[0]
    reached = REACHED.search(code)
    if pure and THROWS.search(code):
        yield f"{folder} throws or catches; errors are values here"
    if pure and reached:
        yield f"{folder} reaches for {reached.group()}; it is to be handed in"
    include = INCLUDE.match(line)
    if not include:
        return
    own, other = include.group("own"), include.group("other")
    if own:
        target = own.split("/")[0] if "/" in own else None
        if target not in FLOOR_OF:
            yield f'"{own}" does not start with a folder of src/'
        elif not may_include(folder, target):
            yield f"{folder} (floor {FLOOR_OF[folder]}) includes {target} (floor {FLOOR_OF[target]})"
        return
    if pure and (other in OUTSIDE_WORLD or other.startswith("sys/")):
        yield (f"{folder} (floor {FLOOR_OF[folder]}) includes <{other}>; "
               f"floors 0 to {HIGHEST_PURE_FLOOR} know only what they are handed")
    for library, users in LIBRARY_USERS.items():
        if other.startswith(library) and folder not in users and path not in users:
            yield f"<{other}> may be included only from {', '.join(sorted(users))}"


def broken_rules(source_folder):
    """(path, line number, problem) for every broken rule below source_folder."""
    source_folder = pathlib.Path(source_folder)
    for file in sorted(source_folder.rglob("*")):
        if file.suffix not in {".cpp", ".hpp", ".h", ".inc"}:
            continue
        path = file.relative_to(source_folder).as_posix()
        folder = path.split("/")[0]
        if folder not in FLOOR_OF:
            yield path, 1, f"{folder} is no floor of the house; known: {', '.join(FLOOR_OF)}"
            continue
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1):
            for problem in broken_rules_of_line(path, folder, line):
                yield path, number, problem


def self_test():
    planted = {
        ("climate/up.cpp", '#include "season/plan.hpp"'): True,
        ("print/up.cpp", '#include "nursery/make_plan.hpp"'): True,
        ("nursery/up.cpp", '#include "host/files.hpp"'): True,
        ("host/up.cpp", '#include "cli/output.hpp"'): True,
        ("season/sideways.hpp", '#include "care/mist.hpp"'): True,
        ("cli/past_nursery.cpp", '#include "season/plan.hpp"'): True,
        ("cli/past_print.cpp", '#include "print/plan/plan_text.hpp"'): True,
        ("server/sideways.cpp", '#include "cli/output.hpp"'): True,
        ("browser/machine.cpp", '#include "host/files.hpp"'): True,
        ("growth/no_folder.cpp", '#include "species.hpp"'): True,
        ("season/toml.cpp", "#include <toml++/toml.h>"): True,
        ("nursery/goal/toml.cpp", "#include <toml++/toml.h>"): True,
        ("nursery/zones.cpp", "#include <date/tz.h>"): True,
        ("host/json.cpp", "#include <nlohmann/json.hpp>"): True,
        ("cli/plan.cpp", "#include <CLI/CLI.hpp>"): True,
        ("host/store/backup.cpp", "#include <sqlite3.h>"): True,
        ("host/store/daybook_store.cpp", "#include <libpq-fe.h>"): True,
        ("host/store/postgres_database.cpp", "#include <libpq-fe.h>"): False,
        ("attic/new.cpp", "#include <vector>"): True,
        ("store/new.cpp", "#include <vector>"): True,
        ("cli/main.cpp", "#include <CLI/CLI.hpp>"): False,
        ("cli/checks.cpp", '#include "host/library.hpp"'): False,
        ("browser/entry.cpp", '#include "nursery/make_plan.hpp"'): False,
        ("server/entry.cpp", '#include "host/library.hpp"'): False,
        ("server/answers.cpp", '#include "daybook/exchange.hpp"'): False,
        ("server/past_nursery.cpp", '#include "season/plan.hpp"'): True,
        ("cli/serve.cpp", '#include "server/service.hpp"'): False,
        ("browser/serves.cpp", '#include "server/service.hpp"'): True,
        ("host/serves.cpp", '#include "server/service.hpp"'): True,
        ("server/endpoints.cpp", "#include <boost/beast/http.hpp>"): True,
        ("server/http_server.cpp", "#include <boost/beast/http.hpp>"): False,
        ("host/waits.cpp", "#include <boost/asio/io_context.hpp>"): True,
        ("server/page.cpp", "#include <zlib.h>"): True,
        ("nursery/toml_file.cpp", "#include <toml++/toml.h>"): False,
        ("nursery/checks/run.cpp", "#include <nlohmann/json.hpp>"): False,
        ("season/plan.cpp", '#include "climate/seasons.hpp"'): False,
        ("season/own.cpp", '  #  include "season/plan.hpp"  // own folder'): False,
        ("host/files.cpp", "#include <fstream>"): False,
        ("host/zones.cpp", "std::getenv(name);"): False,
        ("season/throws.cpp", "if (wrong) throw Wrong{};"): True,
        ("nursery/tries.cpp", "try {"): True,
        ("print/catches.cpp", "} catch (...) {"): True,
        ("host/catches.cpp", "} catch (const std::exception&) {"): False,
        ("mix/country.cpp", "// try to throw nothing away"): False,
        ("season/words.cpp", "// system_clock::now() is not for us"): False,
        ("season/behind.cpp", "run();  // not in a std::thread of ours"): False,
        ("season/days.cpp", "double time(double day); thread_count = lifetime(0);"): False,
    }
    for number, header in enumerate(sorted(OUTSIDE_WORLD | {"sys/stat.h"})):
        planted[f"nursery/header_{number}.cpp", f"#include <{header}>"] = True
    for number, code in enumerate([
        "auto today = std::chrono::system_clock::now();", "using Clock = std::chrono::steady_clock;",
        "const auto now = std::time(nullptr);", "auto now = time(nullptr);", "std::tm* local = std::localtime(&now);",
        "localtime_r(&now, &local);", "gmtime_r(&now, &universal);", "std::mktime(&local);", "std::clock();",
        'const char* home = std::getenv("HOME");', 'char* home = getenv("HOME");', 'setenv("A", "b", 1);',
        'std::setlocale(LC_ALL, "");', 'std::locale german("de_DE");', 'FILE* file = std::fopen("a", "r");',
        'std::ifstream file("a");', 'std::ofstream("a") << 1;', "std::thread other(work);",
        "std::vector<std::jthread> others;", "thread_local int calls = 0;", "std::mutex guard;",
        "std::condition_variable done;",
        "auto later = std::async(work);", "std::random_device chance;", "std::rand();", 'std::cout << "a";',
        'fmt::print("a");', 'std::system("ls");', 'static const std::regex kForm("a");',
    ]):
        planted[f"nursery/code_{number}.cpp", code] = True
        planted[f"base/code_{number}.cpp", code] = True
        planted[f"host/code_{number}.cpp", code] = False
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        for (path, line), _ in planted.items():
            file = pathlib.Path(folder, path)
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(f"#pragma once\n{line}\n", encoding="utf-8")
        found = {(path, number) for path, number, _ in broken_rules(folder)}
    for (path, line), bad in planted.items():
        was_found = (path, 2 if path.split("/")[0] in FLOOR_OF else 1) in found
        if was_found != bad:
            wrong.append(f"{path}: {line!r} {'was not found' if bad else 'was found, but is allowed'}")
    print("\n".join(wrong) or f"{len(planted)} planted includes judged rightly")
    return 1 if wrong else 0


def main(arguments):
    if arguments == ["--self-test"]:
        return self_test()
    problems = [f"{path}:{number}: {problem}" for path, number, problem in broken_rules(arguments[0])]
    files = sum(1 for _ in pathlib.Path(arguments[0]).rglob("*.?pp"))
    if files == 0:
        problems.append(f"{arguments[0]}: no source files there")
    print("\n".join(problems) or f"{files} files keep the floors")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
