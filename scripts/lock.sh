#!/usr/bin/env bash
# Writes the hash-locked requirements from requirements/*.in; refuses a lock that names a host.
set -euo pipefail
cd "$(dirname "$0")/.."

for name in run test; do
    .venv/bin/uv pip compile --quiet --universal --python-version 3.12 \
        --no-emit-index-url --no-header --no-annotate --generate-hashes \
        "$@" "requirements/$name.in" -o "requirements/$name.txt"
    if grep -nE '[a-z]+://' "requirements/$name.txt"; then
        echo "lock: requirements/$name.txt names a host" >&2
        exit 1
    fi
done
