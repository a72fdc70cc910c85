"""Whether someone has answered a finding: decided against it, or did what it asks for."""

from shedbook.rules.finding import key_prefix
from shedbook.rules.match import Context, Rule


def is_answered(context: Context, rule: Rule, ordinal: str) -> bool:
    """Does any entry answer the rule's finding with this ordinal?"""
    if "answers" not in context.known:
        context.known["answers"] = {event.get("answers") for event in context.events}
    return key_prefix(context, rule) + ordinal in context.known["answers"]


def is_declined_since(context: Context, rule: Rule, ordinal: str, instant: int) -> bool:
    """Was it decided against at this instant or later? A figure of a window comes up again."""
    declined = context.declined.get(key_prefix(context, rule) + ordinal)
    return declined is not None and declined >= instant
