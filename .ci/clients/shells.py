"""What shells offer once they have read what `completions` prints: shells.py PROGRAM

Each shell is asked by its own means: bash by its function, fish by its command for it, and
zsh, which has neither, at a terminal. (PowerShell comes from none of the registries.)
"""

import os
import pathlib
import pty
import select
import signal
import subprocess
import sys
import tempfile
import time

from tally import check

# What is typed up to the tab, and what is offered then, among files or not.
TYPED = [
    ("ringrule wor", {"worksheet"}),
    ("ringrule rules id-", {"id-repeated", "id-unlike-name"}),
    ("ringrule validate --table w", {"wdf"}),
    ("ringrule leg --aims m", {"middles"}),
]
LONGEST_WAIT = 20


def said(*command):
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    return done.stdout + done.stderr


def bash(script, folder, typed):
    words = typed.split()
    ask = (
        f'source {script}; COMP_WORDS=({" ".join(words)}); COMP_CWORD={len(words) - 1}; '
        f'_ringrule ringrule {words[-1]} {words[-2]}; printf "%s\\n" "${{COMPREPLY[@]}}"'
    )
    return said("bash", "--norc", "-c", ask)


def fish(script, folder, typed):
    return said("fish", "--no-config", "-c", f"source {script}; complete -C '{typed}'")


def zsh(script, folder, typed):
    """At a terminal, since zsh completes nowhere else: what it prints after the tab."""
    child, terminal = pty.fork()
    if child == 0:
        os.execvpe("zsh", ["zsh", "-f", "-i"], {**os.environ, "TERM": "dumb", "PS1": "> "})
    try:
        begin = f"LISTMAX=1000; fpath=({folder} $fpath); autoload -U compinit; compinit -u -D"
        os.write(terminal, f"{begin}; print re''ady\n".encode())
        until(terminal, "ready\r\n")
        os.write(terminal, typed.encode() + b"\t")
        printed = until(terminal, None)
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(terminal)
    return printed


def until(terminal, mark):
    """What is printed up to a mark; without one, until nothing comes for a second."""
    printed, end = "", time.monotonic() + LONGEST_WAIT
    while time.monotonic() < end and (mark is None or mark not in printed):
        ready, _, _ = select.select([terminal], [], [], LONGEST_WAIT if mark else 1)
        if not ready:
            break
        printed += os.read(terminal, 65536).decode(errors="replace")
    return printed


def main():
    program = sys.argv[1]
    folder = str(pathlib.Path(program).parent)
    os.environ["PATH"] = folder + os.pathsep + os.environ["PATH"]
    with tempfile.TemporaryDirectory() as scripts:
        for ask in (bash, fish, zsh):
            shell = ask.__name__
            # Where zsh looks for it.
            script = pathlib.Path(scripts, "_ringrule" if ask is zsh else shell)
            script.write_text(said(program, "completions", shell))
            with check(f"{shell}: it completes commands, options' words, rules and tables") as looked:
                for typed, offered in TYPED:
                    found = ask(script, scripts, typed)
                    missing = [word for word in offered if word not in found]
                    looked.holds(typed, not missing, sorted(offered), found)
                    looked.holds(typed, "rror" not in found, "no error", found)


main()
