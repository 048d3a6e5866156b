"""What visitors bring, gardens and weather files, checked and kept for as long as the visit lasts."""
