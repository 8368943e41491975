"""The body as a surface, made from the tape: where a drawn line lies on it. No part of it knows the window."""
