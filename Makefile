# make demo   set everything up and run the main job on the demo habitat
# make test   set everything up and run every check and test
# make bench  measure speed, side by side with an independent ray tracer; the workbench in Chromium
# make docs   build the documentation into site/
# make lock   renew the locked requirements

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
DEMO := demo

.PHONY: demo test browser check-code bench docs lock clean

demo: $(VENV)/ready
	@mkdir -p $(DEMO)
	@test -e $(DEMO)/forest-edge.yaml || $(BIN)/loamwright new $(DEMO)/forest-edge.yaml --example forest-edge
	@$(BIN)/loamwright check $(DEMO)/forest-edge.yaml -o $(DEMO)/pages --force; \
	  status=$$?; if [ $$status -gt 1 ]; then exit $$status; fi
	@echo
	@echo "The habitat file is $(DEMO)/forest-edge.yaml: change it and run"
	@echo "  $(BIN)/loamwright check $(DEMO)/forest-edge.yaml"
	@echo "The overview is $(DEMO)/pages/overview.html, the pictures lie beside it."

test: $(VENV)/ready-dev check-code browser
	$(BIN)/pytest -n 2 -m "not browser"
	$(BIN)/pytest -m browser

# The workbench is tested in Chromium: the system's own, installed where that can be done.
browser:
	@if command -v chromium chromium-browser google-chrome >/dev/null 2>&1; then exit 0; fi; \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then \
	    echo "installing Chromium for the browser tests"; \
	    apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq chromium >/dev/null; \
	  else \
	    echo "The browser tests need Chromium and it is not there."; \
	    echo "Install it (Debian: apt-get install chromium, as root), then run make test again."; \
	    exit 1; \
	  fi

check-code: $(VENV)/ready-dev
	$(BIN)/lint-imports
	$(BIN)/ruff check
	$(BIN)/ruff format --check
	$(BIN)/mypy

bench: $(VENV)/ready-dev
	$(BIN)/python bench/light_speed.py
	$(BIN)/python bench/climate_speed.py
	$(BIN)/python bench/ground_speed.py
	$(BIN)/python bench/web_speed.py
	$(BIN)/python bench/community_speed.py

docs: $(VENV)/ready-dev
	$(BIN)/python tools/make_docs.py
	NO_MKDOCS_2_WARNING=1 $(BIN)/mkdocs build --strict --quiet

lock: $(VENV)/ready-dev
	$(BIN)/uv pip compile --quiet --universal --generate-hashes --no-header \
	  --no-annotate --python-version 3.11 pyproject.toml --extra build -o requirements.txt
	$(BIN)/uv pip compile --quiet --universal --generate-hashes --no-header \
	  --no-annotate --python-version 3.11 pyproject.toml --extra build --extra dev -c requirements.txt -o requirements-dev.txt

clean:
	rm -rf $(VENV) $(DEMO) site build *.egg-info src/*.egg-info

# Compiling the engines' loops takes some minutes once; done here, the first check is quick.
$(VENV)/ready: requirements.txt pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
	  { echo "Python 3.11 or newer is needed; say which with: make PYTHON=python3.12"; exit 1; }
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --require-hashes -r requirements.txt
	$(BIN)/python -m pip install --quiet --no-deps --no-build-isolation -e .
	$(BIN)/python -m loamwright.warm
	@touch $@

$(VENV)/ready-dev: $(VENV)/ready requirements-dev.txt
	$(BIN)/python -m pip install --quiet --require-hashes -r requirements-dev.txt
	@touch $@
