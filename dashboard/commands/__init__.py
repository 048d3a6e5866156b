"""What commands ask for alike, print and write: tables, sweeps, questions, and how far to trust the model."""
