"""What the program says: three parts in one sentence."""

from estimator.notices import Severity, UserMistake, WorldFault


def test_a_mistake_says_what_why_and_what_to_do() -> None:
    mistake = UserMistake(
        "crack 'a' ends above the wall", why="the wall has 20 courses", do="shorten it"
    )
    assert (
        str(mistake) == "crack 'a' ends above the wall because the wall has 20 courses; shorten it."
    )


def test_a_mistake_without_advice_is_still_one_sentence() -> None:
    assert str(UserMistake("there is no such scope.")) == "there is no such scope."


def test_a_fault_of_the_world_is_told_like_a_mistake() -> None:
    assert isinstance(WorldFault("the disk is full"), UserMistake)


def test_severities_rise_in_loudness() -> None:
    assert Severity.NOTE < Severity.CAUTION < Severity.REFER < Severity.STOP
