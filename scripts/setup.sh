#!/usr/bin/env bash
# Makes .venv with everything that the tests and the demo need, from the hash-locked list.
# Runs again in a moment when nothing has changed.
set -euo pipefail
cd "$(dirname "$0")/.."

readonly venv=.venv
readonly lock=requirements/test.txt
readonly stamp="$venv/.stowright-setup"
readonly probe='import sys; sys.exit(not sys.version_info >= (3, 12))'

say() { printf 'setup: %s\n' "$*" >&2; }

stamp_text() {
    cat "$lock" pyproject.toml scripts/setup.sh | sha256sum | cut -d' ' -f1
}

# A name on PATH proves nothing (a version manager's shim may stand there): it must run.
new_enough() { "$1" -c "$probe" >/dev/null 2>&1; }

candidates() {
    if [ -n "${PYTHON:-}" ]; then printf '%s\n' "$PYTHON"; fi
    printf '%s\n' python3.12 python3.13 python3.14 python3
    if command -v pyenv >/dev/null 2>&1; then
        local root
        root="$(pyenv root 2>/dev/null || true)"
        if [ -n "$root" ]; then
            printf '%s\n' "$root"/versions/*/bin/python3.1[2-9]
        fi
    fi
}

without_venv=""
find_python() {
    local python
    while read -r python; do
        new_enough "$python" || continue
        if "$python" -c 'import ensurepip, venv' >/dev/null 2>&1; then
            printf '%s\n' "$python"
            return 0
        fi
        without_venv="$python"
    done < <(candidates)
    printf '%s\n' "$without_venv"
    return 1
}

need_python() {
    local python
    if python="$(find_python)"; then
        printf '%s\n' "$python"
        return 0
    fi
    if [ -z "$python" ]; then
        say "no Python 3.12 or newer was found (looked at \$PYTHON, python3.12, python3.13,"
        say "python3.14, python3 and pyenv's versions). Install one, or set PYTHON=/path/to/python."
        return 1
    fi
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        say "$python has no venv module; installing it with apt"
        local version
        version="$("$python" -c 'import sys; print("%d.%d" % sys.version_info[:2])')"
        { apt-get update -q && apt-get install -qy "python$version-venv"; } >&2
        printf '%s\n' "$python"
        return 0
    fi
    say "$python has no venv module (on Debian and Ubuntu: apt install python3-venv)."
    return 1
}

make_venv() {
    local python
    python="$(need_python)"
    if ! { [ -x "$venv/bin/python" ] && new_enough "$venv/bin/python"; }; then
        say "making $venv with $("$python" -V 2>&1)"
        rm -rf "$venv"
        "$python" -m venv "$venv"
    fi
    say "installing the locked requirements"
    local pip=("$venv/bin/python" -m pip --disable-pip-version-check --quiet)
    "${pip[@]}" install --require-hashes -r "$lock"
    "${pip[@]}" install --no-deps --no-build-isolation -e .
    say "compiling the inner loops of the search (kept in the user's cache)"
    "$venv/bin/python" -c 'from stowright.cutting.planning import compile_ahead; compile_ahead()'
    "$venv/bin/python" -c 'from stowright.explore.packing_search import compile_ahead; compile_ahead()'
    stamp_text >"$stamp"
}

need_browser() {
    [ -d tests/browser ] || return 0
    if command -v chromium >/dev/null 2>&1; then return 0; fi
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        say "installing chromium for the browser tests"
        { apt-get update -q && apt-get install -qy chromium; } >&2
        return 0
    fi
    say "the browser tests need chromium on PATH (on Debian: apt install chromium)."
    return 1
}

if ! { [ -f "$stamp" ] && new_enough "$venv/bin/python" && [ "$(stamp_text)" = "$(cat "$stamp")" ]; }; then
    make_venv
fi
need_browser
