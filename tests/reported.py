"""Reports for the tests, each written and read once."""

import io
from datetime import date
from functools import cache

import pypdf

from brimfast.reports.pdf import report_bytes
from brimfast.shared.demo import DEMOS
from tests.builders import assessed, assessed_demo

DAY = date(2026, 11, 25)
SHA = "0123456789abcdef" * 4


def assessed_of(what):
    """Of a demo by its name, or of a text."""
    return assessed_demo(what) if what in DEMOS else assessed(what)


def pdf(assessment, system="us", planned=None, doubted=None):
    return report_bytes(assessment, SHA, system, DAY, planned, doubted)


@cache
def pdf_of(what, system="us"):
    return pdf(assessed_of(what), system)


def reader(data):
    return pypdf.PdfReader(io.BytesIO(data))


@cache
def reader_of(what, system="us"):
    return reader(pdf_of(what, system))


@cache
def pages_of(what, system="us"):
    """The text of each page."""
    return [page.extract_text() for page in reader_of(what, system).pages]
