# make run        serve shop.sqlite on this machine, made with the demo cores at first, and print the address
# make test       lint, types and tests
# make test-long  the same with the long forms of the tests
# make bench      time judging, loading and importing, each beside its floor
# make PYTHON=python3.12 run   use that Python; also: PORT=9000, SHOP=file, CORES=folder to bring in, SHARE=1

PYTHON ?= python3
PORT ?=
SHOP ?=
CORES ?=
SHARE ?=

VENV := .venv
# The stamps lie inside the environment: a fresh one has none, and another Python gets a fresh one.
RUN_STAMP := $(VENV)/installed-by-$(subst /,_,$(PYTHON))
TEST_STAMP := $(RUN_STAMP)-with-test
PIP := $(VENV)/bin/python -m pip --disable-pip-version-check --quiet

.PHONY: run test test-long bench
.DELETE_ON_ERROR:

run: $(RUN_STAMP)
	@exec $(VENV)/bin/inspect-app serve $(if $(SHOP),--shop "$(SHOP)") $(if $(CORES),--cores "$(CORES)") $(if $(PORT),--port $(PORT)) $(if $(SHARE),--share)

test: PYTEST_ARGS :=
test-long: PYTEST_ARGS := -m "long or not long"
test test-long: $(TEST_STAMP)
	$(VENV)/bin/ruff check .
	$(VENV)/bin/ruff format --check .
	$(VENV)/bin/mypy --strict inspect_app
	$(VENV)/bin/pytest $(PYTEST_ARGS)

bench: $(RUN_STAMP)
	@$(VENV)/bin/python -m tests.bench

$(RUN_STAMP): pyproject.toml
	@sh .ci/check_python "$(PYTHON)"
	@echo "Installing into $(VENV). This takes a minute or two and is done once."
	@"$(PYTHON)" -m venv --clear $(VENV)
	@$(PIP) install --editable .
	@touch $@

$(TEST_STAMP): $(RUN_STAMP)
	@sh .ci/find_chromium
	@echo "Installing what the tests need."
	@$(PIP) install --editable ".[test]"
	@touch $@
