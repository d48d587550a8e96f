"""Between Python and JSON: requests out, answers in, refusals as `guardcell.Error`."""

from __future__ import annotations

import json
import math
import types
import typing
from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any, Literal, TypeVar, Union

from guardcell import _native
from guardcell.error import Error, Place

T = TypeVar("T")


def call(name: str, request: str | bytes | Mapping[str, Any] | object) -> Any:
    """Answers a call by its name, as plain Python data.

    The request is JSON as text, a mapping, or a dataclass of `guardcell.models`.

    >>> import guardcell
    >>> guardcell.call("convert", {"quantity": "14 °dH", "to": "mg/L CaCO3"})["message"]
    '14 °dH = 249.87 mg/L CaCO3 hardness'

    :raises guardcell.Error: if the request is refused
    """
    if isinstance(request, str):
        # A lone surrogate has no UTF-8; the bytes are refused as any that are not UTF-8.
        body = request.encode("utf-8", "surrogatepass")
    elif isinstance(request, (bytes, bytearray)):
        body = bytes(request)
    else:
        body = text(plain(request, ""))
    answered, answer = _native.answer(name.encode("utf-8", "replace").decode(), body)
    if answered:
        return json.loads(answer)
    raise refusal(json.loads(answer))


def refusal(error: Mapping[str, Any]) -> Error:
    """The refusal that an error on the wire is."""
    place = error.get("place")
    return Error(
        error["code"],
        error.get("pointer", ""),
        error["detail"],
        error["hint"],
        Place(**place) if place else None,
    )


def ask(name: str, request: Mapping[str, Any], answer: type[T]) -> T:
    """Answers a call with the type of its answer. What is None is left out of the request."""
    given = {field: value for field, value in request.items() if value is not None}
    kind: Any = answer
    decoded: T = decoder(kind)(call(name, given))
    return decoded


def text(request: Any) -> bytes:
    """JSON in UTF-8."""
    return json.dumps(request, ensure_ascii=False, allow_nan=False).encode("utf-8", "surrogatepass")


def plain(value: Any, pointer: str) -> Any:
    """The value as JSON has it: dataclasses as objects without what is None.

    >>> from guardcell.models import Window
    >>> plain(Window(from_="05:00", to="09:00"), "")
    {'from': '05:00', 'to': '09:00'}
    """
    if value is None or isinstance(value, (str, bool, int)):
        return value
    if isinstance(value, float):
        if not math.isfinite(value):
            raise Error(
                "out-of-range", pointer, f"{value} is not a number", "give a finite number"
            )
        return value
    if is_dataclass(value) and not isinstance(value, type):
        members = ((f.name.rstrip("_"), getattr(value, f.name)) for f in fields(value))
        return {
            name: plain(member, below(pointer, name))
            for name, member in members
            if member is not None
        }
    if isinstance(value, Mapping):
        return {
            str(name): plain(member, below(pointer, str(name))) for name, member in value.items()
        }
    if isinstance(value, Sequence) and not isinstance(value, (bytes, bytearray)):
        return [plain(item, f"{pointer}/{i}") for i, item in enumerate(value)]
    raise TypeError(f"{pointer or 'the request'}: {type(value).__name__} has no form in JSON")


def below(pointer: str, name: str) -> str:
    """The pointer of a member (RFC 6901)."""
    return f"{pointer}/{name.replace('~', '~0').replace('/', '~1')}"


@cache
def decoder(hint: Any) -> Callable[[Any], Any]:
    """What turns JSON into this type."""
    origin = typing.get_origin(hint)
    if is_dataclass(hint) and isinstance(hint, type):
        return _of_class(hint)
    if origin in (Union, types.UnionType):
        return _of_choice(typing.get_args(hint))
    if origin is list:
        (item,) = typing.get_args(hint)
        of_item = decoder(item)
        return lambda value: [of_item(v) for v in value]
    if origin is dict:
        of_value = decoder(typing.get_args(hint)[1])
        return lambda value: {k: of_value(v) for k, v in value.items()}
    if origin is tuple:
        return tuple
    if hint is float:
        return float
    return lambda value: value


def _of_class(hint: type[Any]) -> Callable[[Any], Any]:
    # Made when first used: a class may hold itself.
    members: list[tuple[str, str, Callable[[Any], Any]]] = []

    def decode(value: Any) -> Any:
        if not members:
            types_of = typing.get_type_hints(hint)
            members.extend((f.name, f.name.rstrip("_"), decoder(types_of[f.name])) for f in fields(hint))
        return hint(
            **{own: of_member(value[wire]) for own, wire, of_member in members if wire in value}
        )

    return decode


def _of_choice(forms: tuple[Any, ...]) -> Callable[[Any], Any]:
    objects = [form for form in forms if is_dataclass(form)]
    lists = [form for form in forms if typing.get_origin(form) in (list, dict)]
    number = float in forms and int not in forms

    def decode(value: Any) -> Any:
        if isinstance(value, dict) and objects:
            return decoder(_form(objects, value))(value)
        if isinstance(value, (list, dict)) and lists:
            return decoder(lists[0])(value)
        if number and isinstance(value, int) and not isinstance(value, bool):
            return float(value)
        return value

    return decode


def _form(forms: Sequence[Any], value: dict[str, Any]) -> Any:
    """The form whose marks the object has, else the one whose fields it has."""
    if len(forms) == 1:
        return forms[0]
    for form in forms:
        hints = typing.get_type_hints(form)
        marks = {
            name: typing.get_args(hint)[0]
            for name, hint in hints.items()
            if typing.get_origin(hint) is Literal and len(typing.get_args(hint)) == 1
        }
        if marks:
            if all(value.get(name) == word for name, word in marks.items()):
                return form
        elif value.keys() <= {name.rstrip("_") for name in hints}:
            return form
    return forms[0]
