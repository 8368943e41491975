"""What can be done in the window: the tables of actions, and the deeds behind them."""
