"""Reports of several pages: pieces that flow, break between pages and say which page they are on.

The library that writes our PDFs has tables and page breaks of its own, but they know neither our
marks nor which of our two fonts draws a letter, and can't be watched or stopped.
"""
