# A fresh clone needs python3 (3.11 or newer) with venv and pip, git and make; everything else comes from the locks.
# Each library is pinned with its hash. uv, itself pinned, installs in seconds; where it cannot be had pip reads the
# same locks (NO_UV=1 asks for that). The environment is .venv, and what was done to it is stamped inside it.

PYTHON ?= $(shell for p in python3 python3.14 python3.13 python3.12 python3.11; do \
  $$p -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null && echo $$p && break; done)
PY := .venv/bin/python
UV := .venv/bin/uv
WORKERS ?= 2

install = { [ -x $(UV) ] && $(UV) pip install --quiet --python $(PY) $(1); } \
  || $(PY) -m pip install --quiet --disable-pip-version-check $(1)
compile = $(UV) pip compile --quiet --universal --python-version 3.11 --generate-hashes \
  --no-header --no-annotate --no-emit-index-url

# a folder that was moved or copied gets its environment anew
ifneq ($(shell cat .venv/.made 2>/dev/null),$(CURDIR))
.PHONY: .venv/.made
endif

.PHONY: help demo web axe test lint format docs bench lock
help:
	@echo 'make demo    set up, and show an answer on an invented job'
	@echo 'make web     set up, and open the workbench in the browser'
	@echo 'make test    every check: lint, types, import contracts, tests, examples in docstrings'
	@echo 'make lint    the quick ones of them: lint, types, import contracts'
	@echo 'make format  bring the code into its form'
	@echo 'make docs    write the generated pages: symbols, commands'
	@echo 'make bench   measure whole processes against a baseline'
	@echo 'make lock    choose library versions anew; UPGRADE=1 takes the newest'

.venv/.made:
	@test -n '$(PYTHON)' || { echo 'Python 3.11 or newer is needed; name it with PYTHON=...'; exit 1; }
	@echo 'making .venv with $(PYTHON)'
	@$(PYTHON) -m venv .venv
	@test -n '$(NO_UV)' || $(PY) -m pip install --quiet --disable-pip-version-check --require-hashes -r locks/uv.txt \
	  || echo 'uv cannot be had: pip installs, which takes longer'
	@echo '$(CURDIR)' > $@

.venv/.run: .venv/.made locks/run.txt pyproject.toml
	@echo 'installing locks/run.txt and staydown'
	@$(call install,--require-hashes -r locks/run.txt)
	@$(call install,--no-deps --no-build-isolation --editable .)
	@touch $@

.venv/.dev: .venv/.run locks/dev.txt
	@echo 'installing locks/dev.txt'
	@$(call install,--require-hashes -r locks/dev.txt)
	@touch $@

demo: .venv/.run
	.venv/bin/staydown demo

web: .venv/.run
	.venv/bin/staydown serve

# rules of accessibility for the browser tests; never shipped. Without npm those tests skip, or fail where CI wants them.
AXE := .venv/axe/node_modules/axe-core/axe.min.js
axe: .venv/.dev
	@[ -e $(AXE) ] || ! command -v npm >/dev/null || \
	  npm install --silent --prefix .venv/axe --no-audit --no-fund --ignore-scripts axe-core@4.14.1

lint: .venv/.dev
	$(PY) -m ruff check
	$(PY) -m ruff format --check
	$(PY) -m mypy
	$(PY) -m mypy tools benchmarks
	$(PY) -c 'from importlinter.cli import lint_imports_command; lint_imports_command()' --no-cache

test: lint axe
	$(PY) -m pytest -n $(WORKERS) --ignore tests/browser
	$(PY) -m pytest tests/browser

format: .venv/.dev
	$(PY) -m ruff check --fix-only
	$(PY) -m ruff format

docs: .venv/.run
	$(PY) tools/write_symbols.py
	$(PY) tools/write_commands.py
	$(PY) tools/write_readme_answer.py

bench: .venv/.run
	$(PY) benchmarks/whole_process.py

lock: .venv/.made
	$(compile) $(if $(UPGRADE),--upgrade) locks/uv.in --output-file locks/uv.txt
	$(compile) $(if $(UPGRADE),--upgrade) locks/run.in --output-file locks/run.txt
	$(compile) $(if $(UPGRADE),--upgrade) locks/dev.in --output-file locks/dev.txt
