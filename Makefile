# Everything a fresh clone needs: Python 3.11 or newer, make, git.
#
#   make demo    set up once, then write the demo outfit's pages into demo-output
#   make test    the tests
#   make check   form, types and layers
#   make bench   every figure of the lay in one table (ARGS=--quick: two minutes)
#   make bench-desk   milliseconds of changes and checks, and the demo's first lay
#   make format  put the code into its form
#   make lock    make requirements.lock anew (needs uv)

PYTHON ?= python3
VENV ?= .venv
BIN := $(VENV)/bin
READY := $(VENV)/.clothwright-ready
# One more than there are cores: a worker that waits for a browser or a process leaves its core to
# another.
WORKERS ?= $(shell echo $$(($$(getconf _NPROCESSORS_ONLN 2>/dev/null || echo 2) + 1)))
DEMO_OUT ?= demo-output

.PHONY: help setup demo test check form types layers bench bench-desk format lock

help:
	@sed -n 's/^#   //p' Makefile

setup: $(READY)

# Everything comes from the lock, the build backend too, so nothing unpinned is ever fetched.
# An existing environment is completed, not thrown away. uv is used where it is installed.
$(READY): requirements.lock pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
	    { echo "Clothwright needs Python 3.11 or newer; try: make $(MAKECMDGOALS) PYTHON=python3.12"; exit 1; }
	@$(BIN)/python -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null || \
	    $(PYTHON) -m venv --clear $(VENV) || \
	    { echo "Python could not make $(VENV); on Debian and Ubuntu install python3-venv"; exit 1; }
	@echo "Setting up $(VENV) (once, a minute or so) ..."
	@if command -v uv >/dev/null 2>&1; then \
	    uv pip install --quiet --python $(BIN)/python --require-hashes -r requirements.lock && \
	    uv pip install --quiet --python $(BIN)/python --no-deps --no-build-isolation -e . ; \
	else \
	    { $(BIN)/python -m pip --version >/dev/null 2>&1 || $(BIN)/python -m ensurepip ; } && \
	    $(BIN)/python -m pip install -qq --disable-pip-version-check \
	        --require-hashes -r requirements.lock && \
	    $(BIN)/python -m pip install -qq --disable-pip-version-check \
	        --no-deps --no-build-isolation -e . ; \
	fi
	@touch $@

demo: $(READY)
	@$(BIN)/clothwright demo --out $(DEMO_OUT)
	@echo "Look into $(DEMO_OUT)"

# Many tests start the program in a process of its own: it is compiled once, not by each of them.
test: $(READY)
	env -u PYTHONDONTWRITEBYTECODE $(BIN)/python -m pytest -n $(WORKERS) --dist worksteal $(ARGS)

# With `make -k check` all three are looked at, even if the first finds something.
check: form types layers

form: $(READY)
	$(BIN)/ruff format --check --quiet || { echo "make format mends the form"; exit 1; }
	$(BIN)/ruff check

types: $(READY)
	$(BIN)/mypy --strict src

layers: $(READY)
	$(BIN)/lint-imports

# One table (docs/bench.md). About an hour and three quarters; ARGS=--quick takes two minutes.
bench: $(READY)
	$(BIN)/python bench/table.py $(ARGS)

bench-desk: $(READY)
	$(BIN)/python bench/checks.py
	$(BIN)/python bench/outfit.py

format: $(READY)
	$(BIN)/ruff check --fix
	$(BIN)/ruff format

# One set of versions for every Python (3.11 and up) and system. Where packages are fetched
# from is each machine's own business and never written into the lock.
LOCK_WITH := uv pip compile pyproject.toml --group test --group build \
    --universal --python-version 3.11 --fork-strategy fewest --generate-hashes \
    --no-emit-index-url --no-emit-find-links --no-header --annotation-style line --quiet

lock:
	@command -v uv >/dev/null 2>&1 || { echo "make lock needs uv: python3 -m pip install uv"; exit 1; }
	$(LOCK_WITH) $(LOCK_ARGS) -o requirements.lock
	@! grep -n '://' requirements.lock || { echo "requirements.lock names a host"; exit 1; }
