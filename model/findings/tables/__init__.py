"""The diagnosis tables: for each thing that readings can show, its likely causes in order with what to do next."""
