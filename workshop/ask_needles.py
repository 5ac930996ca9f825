"""The plain mode at the needles: a sentence, what it did, and where the knitting is now."""

from workshop.at_needles import NotKnitted
from workshop.core.knitting.needles import at_the_needles
from workshop.prints.dated import today
from workshop.spoken import Talk
from workshop.telling import heard, help_in
from workshop.visible import in_one_line
from workshop.words.at_needles import told
from workshop.words.phrase import in_terms

SHORT = "Type done, back, a row number, count, left, lost, where or ?. Enter alone goes back to the plan."


def knit(talk: Talk) -> None:
    """At the needles until Enter alone; what is said is on disk before the next. Raises Leave at the end of input."""
    talk.say("At the needles.")
    _say_where(talk)
    talk.say(SHORT)
    while (text := talk.hear("Knitting: ")) not in ("", ".", "<", ">"):
        if text.startswith("?"):
            for said, does in help_in(talk.session.project.units):
                talk.say(in_terms(f"  {said}: {does}", talk.session.project.terms))
            continue
        _do(talk, text)


def _do(talk: Talk, text: str) -> None:
    session = talk.session
    try:
        done = heard(session.plan, text, today(), session.before, session.project)
    except NotKnitted as error:
        why = in_one_line(str(error))
        talk.say(f"  That didn't work: {why}{'' if why.endswith('?') else '.'}")
        return
    session.change(done.project)
    if session.fault:
        talk.say(f"  Not saved: {session.fault}")
    if session.news:
        talk.say(f"  {session.news}")
        session.news = ""
    for line in done.answer:
        talk.say(f"  {line}")
    if not done.answer:
        _say_where(talk)


def _say_where(talk: Talk) -> None:
    plan = talk.session.plan
    for line in told(at_the_needles(plan, today()), plan, talk.session.before).lines:
        talk.say(f"  {line}")
