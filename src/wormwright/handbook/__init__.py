"""Read-only tables, each row with its source, in mm and N. Nothing is computed here but look-up."""
