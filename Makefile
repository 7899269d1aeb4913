# `make help` lists the targets. Every target that needs the environment makes it first.

PYTHON ?= $(shell command -v python3.11 || command -v python3)
BIN    := .venv/bin
PY     := $(BIN)/python
SRC    := $(shell find src -name '*.py' 2>/dev/null)
PYTEST_ARGS ?= -n auto
# Each writes its pages, and with --check says whether they are up to date.
PAGES  := $(patsubst tools/%.py,tools.%,$(wildcard tools/validation.py tools/docs.py))

# Start-up is several times slower without byte-code, so no setting of the shell may suppress it.
export PYTHONDONTWRITEBYTECODE =

.DEFAULT_GOAL := help
.DELETE_ON_ERROR:
MAKEFLAGS += --no-builtin-rules
.PHONY: help setup demo demos test lint fix data validate docs bench lock clean

help: ## list the targets
	@awk -F ':.*## ' '/^[a-z]+:.*## /{printf "  make %-9s %s\n", $$1, $$2}' $(MAKEFILE_LIST)

setup: .venv/.stamp .venv/.compiled ## make .venv with the locked packages and the command
	@:

# uv installs in seconds; where it cannot be had, pip reads the same locked file, slower.
.venv/.locked: requirements/dev.txt requirements/tools.txt
	@"$(PYTHON)" -c 'import sys; sys.exit(sys.version_info < (3, 11) and "Python 3.11 or later is needed: make PYTHON=...")'
	"$(PYTHON)" -m venv --clear .venv
	@if $(PY) -m pip install --quiet --only-binary :all: --require-hashes -r requirements/tools.txt \
	  && $(BIN)/uv pip install --quiet --system-certs --python $(PY) --require-hashes -r requirements/dev.txt; then :; \
	else echo 'uv did not do it: pip does the same' >&2; \
	  $(PY) -m pip install --quiet --require-hashes -r requirements/dev.txt; fi
	@$(PY) -m compileall -q -j 0 .venv/lib
	@touch $@

.venv/.stamp: .venv/.locked pyproject.toml
	@$(PY) -m pip install --quiet --no-deps --no-build-isolation --no-index --editable .
	@touch $@

.venv/.compiled: .venv/.stamp $(SRC)
	@$(PY) -m compileall -q src
	@touch $@

demo: setup ## the whole path on an invented job, into out/
	$(BIN)/fluewright demo out

demos: setup ## every invented job, each into a folder of its own in out/
	$(BIN)/fluewright demo out --job all

test: lint ## everything that must hold, as in CI
	$(BIN)/pytest $(PYTEST_ARGS)

lint: setup ## format, rules, types, module layers, dependencies, spelling, generated pages
	$(BIN)/ruff format --check --quiet
	$(BIN)/ruff check --quiet
	$(BIN)/mypy --strict src
	$(BIN)/lint-imports
	$(BIN)/deptry src
	$(BIN)/codespell
	$(PAGES:%=$(PY) -m % --check &&) true

fix: setup ## put right what can be put right without thinking
	$(BIN)/ruff check --fix --quiet
	$(BIN)/ruff format --quiet

data: setup ## load and cross-check every data file
	$(PY) -m tools.check_data

validate: setup ## run the published checks and the printed tables, then rewrite docs/validation.md
	$(BIN)/pytest $(PYTEST_ARGS) tests/published tests/draft/test_bases.py tests/draft/test_common_tables.py
	$(PY) -m tools.validation

docs: setup ## rewrite the generated pages
	$(PAGES:%=$(PY) -m % &&) true

bench: setup ## time the start, one job and the draft engine; judge ten thousand random surveys
	$(PY) bench/judge.py
	$(PY) -m bench.random_surveys
	$(PY) -m bench.draft

# The locked files name no index and no path: they hold names, versions, hashes.
LOCK := $(BIN)/uv pip compile --quiet --system-certs --universal --fork-strategy fewest --python-version 3.11 \
	--generate-hashes --no-emit-index-url --no-header --no-annotate pyproject.toml
lock: setup ## resolve the requirements anew (UPGRADE=--upgrade for newer versions)
	$(LOCK) $(UPGRADE) -o requirements/runtime.txt
	$(LOCK) $(UPGRADE) -c requirements/runtime.txt --group dev -o requirements/dev.txt
	$(BIN)/uv pip compile --quiet --system-certs --universal --python-version 3.11 --generate-hashes \
	  --no-emit-index-url --no-header --no-annotate $(UPGRADE) --group tools -o requirements/tools.txt

clean: ## remove all that make or a tool has made
	rm -rf .venv out build dist site .hypothesis .import_linter_cache .mypy_cache .pytest_cache .ruff_cache
	find src tests tools -name __pycache__ -type d -prune -exec rm -rf {} +
