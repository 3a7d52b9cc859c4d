"""The desk's forms. Each carries the token against forged requests."""

from unicodedata import normalize

from flask_wtf import FlaskForm
from flask_wtf.file import FileField, FileRequired
from wtforms import HiddenField, PasswordField, StringField
from wtforms.validators import DataRequired, InputRequired, Length

LONGEST_NAME = 64
LONGEST_PASSWORD = 200
LONGEST_REASON = 500


class SignInForm(FlaskForm):  # type: ignore[misc]
    """Name and password; `next` is the page that was asked for."""

    name = StringField(
        "Name",
        [
            InputRequired("Please type your name."),
            Length(max=LONGEST_NAME, message=f"At most {LONGEST_NAME} characters."),
        ],
        filters=[lambda text: text.strip() if text else text],
        render_kw={"autocomplete": "username", "autocapitalize": "none"},
    )
    password = PasswordField(
        "Password",
        [
            InputRequired("Please type your password."),
            Length(max=LONGEST_PASSWORD, message="That is too long."),
        ],
        render_kw={"autocomplete": "current-password"},
    )
    next = HiddenField()


class ReasonForm(FlaskForm):  # type: ignore[misc]
    """Why something is ended for good."""

    reason = StringField(
        "Reason",
        [
            DataRequired("Please say why."),
            Length(max=LONGEST_REASON, message=f"At most {LONGEST_REASON} characters."),
        ],
        filters=[lambda text: normalize("NFC", text.strip()) if text else text],
    )


class FileForm(FlaskForm):  # type: ignore[misc]
    """A file of entries that a phone wrote out."""

    file = FileField(
        "File of entries",
        [FileRequired("Please choose a file.")],
        render_kw={"accept": ".json,application/json"},
    )


class PressForm(FlaskForm):  # type: ignore[misc]
    """A form with nothing but its button."""
