"""Hands one file over to one phone in the room, on the practice's own network.

The only part of the program that listens on a network, and only when the practitioner starts it.
"""
