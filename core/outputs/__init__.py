"""What leaves the program: one drawing in millimetres, and the formats that replay it."""
