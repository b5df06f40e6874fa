"""The browser of the tests of the screens, for the tests that walk the manual."""

from tests.ui.conftest import browser as browser
