# Two commands for a fresh machine: `make demo` and `make test`. Both set up what is missing first.
SHELL := /bin/bash
.DEFAULT_GOAL := help
MARK := .handline/setup
UV := .uv/bin/uv
PACKAGES := python3-venv nodejs npm chromium webkit2gtk-driver xvfb xauth poppler-utils \
	libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fonts-dejavu-core
JS := static/node_modules/.package-lock.json
VENDOR := $(MARK)/vendor
CORE := static/core/trade.zip
PORT ?= 8000

.PHONY: help setup demo test test-postgres bench pictures lint types

help: ## Say what there is to make
	@grep -hE '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed 's/:.*##/:/'

setup: $(MARK)/packages $(MARK)/python $(VENDOR) $(CORE) ## Install what is missing: system packages, Python and browser libraries

demo: setup ## Seed the demo, print invitations, serve at http://127.0.0.1:8000
	.venv/bin/handline demo --port $(PORT)

test: setup lint types ## Everything that proves it
	.venv/bin/pytest -q -n auto --dist loadfile

test-postgres: setup ## The data tests against the PostgreSQL that HANDLINE_TEST_POSTGRES names
	.venv/bin/pytest -q -m postgres

bench: setup ## What things cost, as ratios within one run
	.venv/bin/python -m tests.bench.fold
	.venv/bin/python -m tests.bench.large

pictures: setup ## Take the pictures of README.md anew
	.venv/bin/python -m tests.pictures.take

lint: setup
	.venv/bin/ruff check . && .venv/bin/ruff format --check .
	.venv/bin/lint-imports
	cd static && npx --no-install biome check .

types: setup
	.venv/bin/mypy
	cd static && npx --no-install tsc -p tsconfig.json

$(MARK)/packages: Makefile
	@mkdir -p $(MARK)
	@missing=$$(for name in $(PACKAGES); do \
		case $$name in nodejs|npm) command -v $${name/nodejs/node} >/dev/null && continue;; esac; \
		dpkg-query -W -f='$${Status}' $$name 2>/dev/null | grep -q 'ok installed' || echo $$name; done); \
	if [ -n "$$missing" ]; then echo "Installing system packages:" $$missing; \
		as_root=$$([ "$$(id -u)" = 0 ] || echo sudo); \
		$$as_root apt-get update -q && $$as_root env DEBIAN_FRONTEND=noninteractive \
			apt-get install -y -q --no-install-recommends $$missing; fi
	@touch $@

$(UV): | $(MARK)/packages
	@echo "Installing uv, which installs the Python libraries"
	python3 -m venv .uv && .uv/bin/pip install -q 'uv>=0.9'

$(MARK)/python: pyproject.toml uv.lock | $(UV)
	@echo "Installing the Python libraries of uv.lock"
	$(UV) sync --frozen -q
	@touch $@

$(JS): static/package.json static/package-lock.json | $(MARK)/packages
	@echo "Installing the browser libraries of static/package-lock.json"
	cd static && npm ci --no-audit --no-fund
	@touch $@

$(VENDOR): $(JS) static/vendor.mjs static/importmap.json
	node static/vendor.mjs
	@touch $@

$(CORE): server/pack.py server/__init__.py $(wildcard server/trade/*.py) | $(MARK)/python
	.venv/bin/python -m server.pack
	@touch $@
