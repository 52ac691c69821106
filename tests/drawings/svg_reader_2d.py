"""Reads an SVG with the standard library's XML parser, which refuses what is not well formed."""

from dataclasses import dataclass, field
from xml.parsers import expat


@dataclass
class Element:
    """One element: its tag, attributes, own text, and what stands in it."""

    tag: str
    attributes: dict
    text: str = ""
    children: list = field(default_factory=list)

    def get(self, name):
        return self.attributes.get(name)

    def all(self, tag=None):
        for child in self.children:
            if tag in {None, child.tag}:
                yield child
            yield from child.all(tag)

    def first(self, tag):
        return next(self.all(tag))


def read_svg(text):
    """Return the root element."""
    stack = [Element("document", {})]

    def start(tag, attributes):
        element = Element(tag, attributes)
        stack[-1].children.append(element)
        stack.append(element)

    def letters(data):
        stack[-1].text += data

    parser = expat.ParserCreate()
    parser.StartElementHandler = start
    parser.EndElementHandler = lambda _: stack.pop()
    parser.CharacterDataHandler = letters
    parser.Parse(text.encode())
    parser.Parse(b"", 1)
    return stack[0].children[0]
