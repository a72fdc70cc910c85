"""/api/gardens/<garden>/entries: the log, page by page."""

from tests.api.builders import Phone, error_of


def test_entries_are_read_in_the_order_of_the_log_page_by_page(lead: Phone, reader: Phone) -> None:
    sent = [lead.entry() for _ in range(5)]
    lead.sync(sent)
    first = reader.get("/entries?limit=3").get_json()
    assert [one["id"] for one in first["entries"]] == [one["id"] for one in sent[:3]]
    assert (first["cursor"], first["head"]) == (3, 5)
    second = reader.get(f"/entries?after={first['cursor']}").get_json()
    assert [one["seq"] for one in second["entries"]] == [4, 5]
    assert second["cursor"] == 5
    assert second["epoch"] == lead.sync()["epoch"]


def test_above_the_head_there_is_nothing(lead: Phone) -> None:
    lead.sync([lead.entry()])
    page = lead.get("/entries?after=9").get_json()
    assert page["entries"] == []
    assert (page["cursor"], page["head"]) == (1, 1)


def test_bounds_of_the_query_are_named(lead: Phone) -> None:
    for query, field in (("after=-1", "after"), ("limit=2001", "limit"), ("limit=x", "limit")):
        response = lead.get(f"/entries?{query}")
        assert response.status_code == 422
        assert list(error_of(response)["fields"]) == [field]
    assert list(error_of(lead.get("/entries?before=3"))["fields"]) == ["before"]
