# A door only: every recipe is a plain command that the README spells out.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/.installed

.PHONY: demo test benchmark clean

demo: $(STAMP)
	$(BIN)/python scripts/demo.py

test: $(STAMP)
	$(BIN)/python scripts/check.py

benchmark: $(STAMP)
	$(BIN)/python -m benchmarks

$(STAMP): requirements.lock pyproject.toml scripts/set_up.py
	$(PYTHON) scripts/set_up.py $(VENV)

clean:
	rm -rf $(VENV) demo
