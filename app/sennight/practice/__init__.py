"""What a practitioner does with the program: one function a use case, one transaction each."""
