"""What a report says, gathered from a tablet's or an office's entries alike.

Facts only, as frozen models: `fieldapp/report` lays them out on paper, in a spreadsheet, as a
drawing or as JSON. Nothing here is looked up again while a report is written.
"""
