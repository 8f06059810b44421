#!/usr/bin/env python3
"""Prints the words of each page of PDF files.

    text_of_pdf.py FILE...

A line of JSON for each file, in the order given: a list with the words of each page, with single spaces. Needs pdfplumber.
"""

import json
import sys

import pdfplumber

for path in sys.argv[1:]:
    with pdfplumber.open(path) as pdf:
        pages = [" ".join(word["text"] for word in page.extract_words()) for page in pdf.pages]
    print(json.dumps(pages))
