"""The rules of the house that no linter knows. Each failure says what to do."""
