"""Drawings as plain data, and the back ends that write them."""
