"""An e-mail file: a message with the client's files attached, to be opened in a mail program.

Nothing is sent: the practitioner opens it, puts in the address and sends it. It names nobody.
"""

from __future__ import annotations

from collections.abc import Mapping
from email.message import EmailMessage
from email.policy import SMTP

_BOUNDARY = "=_sennight_reminders"
"""Always the same, so that the same files give the same bytes."""


def email_bytes(files: Mapping[str, bytes], *, subject: str, text: str) -> bytes:
    """A message with these files, PDF and calendars by name, attached, as RFC 5322 has it."""
    message = EmailMessage(policy=SMTP)
    message["Subject"] = subject
    message["X-Unsent"] = "1"  # mail programs that know it open the message for writing
    message.set_content(text)
    for name, data in files.items():
        if name.endswith(".pdf"):
            message.add_attachment(data, maintype="application", subtype="pdf", filename=name)
        else:
            message.add_attachment(data.decode(), subtype="calendar", filename=name, cte="base64")
    message.set_boundary(_BOUNDARY)
    return message.as_bytes()
