"""The cutting table: where pieces lie, how they are drawn, what lies under the pointer."""
