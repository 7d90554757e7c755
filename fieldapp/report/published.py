"""The published form of reports as JSON: what another program can count on."""

from fieldapp.work.reporting.facts import Facts, HeadingFacts, MonthFacts, RehabFacts, RoundFacts
from schemas.json_schema import described


def published_reports() -> dict[str, bytes]:
    """Give the schema of each report as the bytes of a file, under the name of the file."""
    reports: dict[str, type[Facts]] = {
        "report_heading": HeadingFacts,
        "report_month": MonthFacts,
        "report_rehab": RehabFacts,
        "report_round": RoundFacts,
    }
    return {f"{name}.json": described(name, model) for name, model in reports.items()}
