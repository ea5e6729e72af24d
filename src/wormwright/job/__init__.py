"""The nouns of the trade: frozen, they refuse impossible values, and hold no formulas."""
