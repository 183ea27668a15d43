"""The screens: they draw and ask, and decide nothing about herbs or dates."""
