"""The client's body: what is measured and how, what is estimated and by which rule, what cannot be true."""
