"""What is checked before cutting: seams and their verdicts, girths, edges left unsewn, outlines."""
