"""Page text: nothing that a person gives can become markup."""

from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.web.markup import Markup, h, joined


def test_texts_and_attributes_are_escaped():
    made = h("p", "<script>alert(1)</script>", title='"><img src=x onerror=alert(1)>')
    assert "<script" not in made
    assert "<img" not in made
    assert made.startswith('<p title="&quot;&gt;&lt;img')


def test_lists_numbers_and_nothing_are_joined():
    assert joined(["a", None, 1.5, [h("b", "c")]]) == "a1.5<b>c</b>"


def test_true_writes_a_name_alone_and_false_leaves_it_out():
    assert h("input", disabled=True, checked=False, type="text") == '<input disabled type="text">'


def test_classes_come_from_the_tag_and_from_the_argument():
    assert h("div.row.wide", class_="here") == '<div class="row wide here"></div>'


@settings(max_examples=60)
@given(st.text())
def test_no_text_opens_an_element(text):
    inside = h("p", text, data_what=text).removeprefix("<p").removesuffix("</p>")
    assert inside.count("<") == 0
    assert inside.count(">") == 1  # the end of the opening tag


def test_only_what_is_markup_already_stays():
    assert h("p", Markup("<b>x</b>")) == "<p><b>x</b></p>"
