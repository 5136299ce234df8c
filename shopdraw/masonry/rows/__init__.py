"""The ways of filling one course of a bond, and their merit."""
