# Every target does its own set-up; see scripts/setup.sh.
.DEFAULT_GOAL := help
.PHONY: help setup demo open test test-slow mutation bench lint format lock clean

bin := .venv/bin
workers ?= 2

help: ## Show the targets
	@grep -hE '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:[^#]*## /\t/' | expand -t 12

setup: ## Make or refresh .venv
	@scripts/setup.sh

demo: setup ## Plan the pickup example into out/demo
	@$(bin)/stowright plan examples/pickup/job.toml --out out/demo
	@echo "The plan, the book and the drawings are in out/demo (start with out/demo/book.pdf)."

open: setup ## Open the web app on the jobs in out/jobs
	@$(bin)/stowright open --folder out/jobs

lint: setup ## Format, lint, types and the import contract
	$(bin)/ruff format --check .
	$(bin)/ruff check .
	$(bin)/mypy
	$(bin)/lint-imports --no-cache --no-logo

test: lint ## Everything that has to hold before a change goes in
	$(bin)/pytest -q -n $(workers)

test-slow: setup ## The long searches as well
	$(bin)/pytest -q -n $(workers) -m slow

mutation: setup ## Change each number of the formulas by 2 % and see a test go red (slow)
	@$(bin)/python scripts/mutation_check.py

bench: setup ## Time the program, beside public libraries where they do the same
	@for file in benchmarks/bench_*.py; do $(bin)/python $$file || exit 1; done

format: setup ## Put the code in shape
	$(bin)/ruff format .
	$(bin)/ruff check --fix .

lock: setup ## Write the hash-locked requirements anew (needs uv: pip install uv)
	@scripts/lock.sh

clean: ## Remove what was made, .venv included
	rm -rf .venv out build dist
