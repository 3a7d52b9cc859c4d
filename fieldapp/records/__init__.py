"""Paper: the record of a subject as a PDF that proves itself.

Everything printed is worked out from evidence handed in as plain data: a record
records and computes, it never approves. The PDF library is used in `pdf.py` alone.
"""
