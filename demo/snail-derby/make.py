#!/usr/bin/env python3
"""Write production.json: a crowd day of two hundred people, all of them invented.

usage: make.py > production.json

The same bytes every time: nothing is drawn, everything is dealt out in turn.
"""
import json

DATE = "2027-06-12"
GIVEN = ["Ada", "Bogdan", "Chiara", "Daoud", "Eilidh", "Fumiko", "Gustavo", "Hanne", "Ibrahim", "Jolanta", "Kwame",
         "Liesbeth", "Małgorzata", "Néstor", "Oluwaseun", "Þóra", "Quentin", "Rósa", "Søren", "Tuấn", "Uschi",
         "Valdís", "Wiremu", "Xóchitl", "Ýmir", "Žofie", "Артём", "Зоя", "Їжак", "Ελένη", "Νίκος", "יונתן", "نورة",
         "कमला", "李梅", "さくら", "지우"]
FAMILY = ["Abernathy", "Björnsdóttir", "Çelik", "Drăgulescu", "Etxeberria", "Fitzgibbon", "Głowacki", "Horváth",
          "Iyer", "Jørgensen", "Kamau", "Llewellyn", "Mac Giolla", "Nakamura", "Ó Briain", "Pérez", "Quesada",
          "Rahman", "Škvorecký", "Tanaka", "Uí Néill", "van Dijk", "Whitaker"]
LANGUAGES = ["en-GB", "pl", "en-GB", "cy", "en-GB", "uk", "en-GB", "ar", "en-GB", "pt"]
HEADS = 200
CREW = {1: "direct", 2: "camera", 3: "camera", 4: "sound", 5: "light", 6: "light", 7: "first-aid", 8: "first-aid", 9: "camera", 10: "direct", 26: "camera"}
PAINTERS = [11, 12, 13, 14, 15, 16]
LACERS = [17, 18, 19]
PARTS = {"mayor": 21, "commentator": 22, "trainer-comet": 23, "trainer-thunder": 24, "seller": 25}


def who(n):
    return f"p{n:03}"


def person(n):
    row = {"id": who(n), "name": f"{GIVEN[n * 11 % len(GIVEN)]} {FAMILY[n * 7 % len(FAMILY)]}",
           "language": LANGUAGES[n % len(LANGUAGES)]}
    child = n > 40 and n % 9 == 0
    if child:
        row["born"] = f"{2014 + n % 5}-{1 + n % 12:02}-{1 + n % 28:02}"
        row["guardian"] = who(n - 1)
    else:
        row["phone"] = f"07700 900{n:03}"
    can = [CREW[n]] if n in CREW else []
    if n in PAINTERS: can.append("paint")
    if n in LACERS: can.append("lace")
    if n > 40 and n % 8 == 3: can.append("play")
    if can: row["can"] = can
    if n > 40:
        if n % 11 == 4: row["free"] = [f"{DATE} 07:00-14:30"]
        if n % 11 == 9: row["free"] = [f"{DATE} 11:30-19:00"]
        if n % 8 == 5: row["no"] = ["face-paint"]
        if n % 47 == 0: row["answer"], row["turnout"] = "maybe", 0.5
        if n % 61 == 0: row["answer"] = "no"
        if n % 23 == 0: row["food"] = ["vegan", "no nuts", "halal", "no gluten"][n % 4]
    return row


def painted(colour, minutes):
    return {"id": colour, "name": f"Follower of the {colour} snail", "tags": ["face-paint"],
            "steps": [{"at": "rail", "minutes": 2}, {"at": "paint", "minutes": minutes, "by": "paint", "then_wait": 3}],
            "off": [{"at": "sinks", "minutes": 5}], "items": [f"{colour}-scarf"],
            "wear": "no brand names", "bring": "something that rattles"}


def scene(name, title, place, shoot, cast, **more):
    return {"id": name, "name": title, "place": place, "set_minutes": 10, "shoot_minutes": shoot,
            "cast": [{"role": r, "people": k} if k > 1 else {"role": r} for r, k in cast], **more}


def production():
    crowd = lambda name, title, look=None, **more: {"id": name, "name": title, "crowd": True,
                                                    **({"look": look} if look else {}), **more}
    return {
        "greasepaint": 1, "title": "The Grand Snail Derby", "language": "en-GB", "zone": "Europe/London",
        "contact": {"name": "The snail office", "phone": "01632 960077"},
        "sign_in_minutes": 10, "round_to": 10,
        "days": [{"date": DATE, "base": "barn", "nobody_before": "07:00", "first_shot": "09:30", "wrap_by": "18:30",
                  "meals": [{"name": "lunch", "minutes": 40, "between": "12:00-14:30", "together": True}],
                  "first_aid": "Green tent beside the barn", "hospital": "Ashmoor General, Long Lane, open day and night",
                  "notes": "Hats, water, sun cream. Nobody races a real snail: ours are made of cardboard."}],
        "places": [{"id": "barn", "name": "Great barn", "address": "Hollow Farm, Ashmoor", "lat": 53.212, "lon": -1.704,
                    "minutes_to": {"track": 5, "stands": 6, "tent": 2}},
                   {"id": "track", "name": "Racing track", "lat": 53.214, "lon": -1.707, "outdoors": True,
                    "minutes_to": {"stands": 2, "tent": 4}},
                   {"id": "stands", "name": "Stands of straw bales", "lat": 53.214, "lon": -1.708, "outdoors": True,
                    "minutes_to": {"tent": 5}},
                   {"id": "tent", "name": "Tea tent", "lat": 53.213, "lon": -1.704, "outdoors": True}],
        "people": [person(n) for n in range(1, HEADS + 1)],
        "roles": [{"id": "mayor", "name": "The mayor", "person": who(PARTS["mayor"]), "look": "chain"},
                  {"id": "commentator", "name": "The commentator", "person": who(PARTS["commentator"])},
                  {"id": "trainer-comet", "name": "Trainer of Comet", "person": who(PARTS["trainer-comet"]), "look": "trainer"},
                  {"id": "trainer-thunder", "name": "Trainer of Thunder", "person": who(PARTS["trainer-thunder"]), "look": "trainer"},
                  {"id": "seller", "name": "Lettuce seller", "person": who(PARTS["seller"]), "look": "apron"},
                  crowd("green", "Green followers", "green"), crowd("orange", "Orange followers", "orange"),
                  crowd("snail", "Snails", "snail"), crowd("band", "Band", "band", needs=["play"]),
                  crowd("judge", "Judges", "judge"), crowd("steward", "Stewards", "steward"),
                  crowd("villager", "Villagers"), crowd("anybody", "Anybody at all", "any")],
        "looks": [painted("green", 6), painted("orange", 6),
                  {"id": "snail", "name": "Snail", "items": ["shell"], "holds_for": 300,
                   "steps": [{"at": "rail", "minutes": 3}, {"at": "shells", "minutes": 8, "by": "lace"}],
                   "off": [{"at": "shells", "minutes": 4, "by": "lace"}], "wear": "brown, and knee pads"},
                  {"id": "band", "name": "Band", "items": ["tunic"], "steps": [{"at": "rail", "minutes": 4}],
                   "off": [{"at": "rail", "minutes": 3}], "bring": "your instrument"},
                  {"id": "steward", "name": "Steward", "items": ["vest"], "steps": [{"at": "rail", "minutes": 1}]},
                  {"id": "judge", "name": "Judge", "items": ["bowler"]},
                  {"id": "trainer", "name": "Trainer", "steps": [{"at": "rail", "minutes": 6}]},
                  {"id": "chain", "name": "Mayor", "items": ["chain"], "steps": [{"at": "rail", "minutes": 5}]},
                  {"id": "apron", "name": "Seller", "steps": [{"at": "rail", "minutes": 2}]}],
        "stations": [{"id": "rail", "name": "Costume rail", "places": 8},
                     {"id": "paint", "name": "Face paint", "places": 6, "open": "07:00-18:30",
                      "staff": [who(n) for n in PAINTERS], "set_minutes": 15},
                     {"id": "shells", "name": "Shell lacing", "places": 3, "staff": [who(n) for n in LACERS], "set_minutes": 10},
                     {"id": "sinks", "name": "Sinks", "places": 16}],
        "items": [{"id": "green-scarf", "name": "Green scarf", "count": 32, "instead": ["ribbon"]},
                  {"id": "orange-scarf", "name": "Orange scarf", "count": 32, "instead": ["ribbon"]},
                  {"id": "ribbon", "name": "Two-coloured ribbon", "count": 30},
                  {"id": "shell", "name": "Cardboard shell", "count": 8}, {"id": "tunic", "name": "Band tunic", "count": 14},
                  {"id": "vest", "name": "Steward's vest", "count": 10}, {"id": "bowler", "name": "Bowler hat", "count": 5},
                  {"id": "chain", "name": "Mayor's chain"}, {"id": "lettuce", "name": "Lettuce", "count": 30},
                  {"id": "bell", "name": "Finish bell"}],
        "units": [{"id": "main", "name": "Main unit",
                   "crew": [{"job": "director", "needs": ["direct"]}, {"job": "camera", "people": 2, "needs": ["camera"], "from": [who(2), who(3)]},
                            {"job": "sound", "needs": ["sound"]}]},
                  {"id": "ground", "name": "Ground unit", "crew": [{"job": "low camera", "needs": ["camera"], "from": [who(9), who(26)]}]}],
        "scenes": [
            scene("office", "The snail office opens", "barn", 20, [("mayor", 1), ("judge", 5), ("villager", 6)]),
            scene("weighing", "Comet is weighed against a lettuce", "barn", 20, [("trainer-comet", 1), ("judge", 2), ("seller", 1)],
                  props=[{"item": "lettuce", "count": 3}]),
            scene("lettuces", "Twenty yards of lettuce", "track", 25, [("anybody", 4)], unit="ground", light="day",
                  props=[{"item": "lettuce", "count": 20}], hazards=["food"]),
            scene("band", "The band is early", "tent", 25, [("band", 14), ("villager", 12)], light="day"),
            scene("queue", "The queue for lettuce", "tent", 20, [("seller", 1), ("villager", 25), ("steward", 2)], light="day",
                  hazards=["food"]),
            scene("stands", "The stands fill", "stands", 30, [("green", 36), ("orange", 36), ("steward", 8)], light="day",
                  set="stands", crew=[{"job": "first aid", "needs": ["first-aid"]}], hazards=["heat"]),
            scene("start", "They are off, as far as one can tell", "track", 25,
                  [("snail", 8), ("trainer-comet", 1), ("trainer-thunder", 1), ("judge", 3)], light="day", set="track", reset_minutes=5,
                  hazards=["heat"]),
            scene("crawl", "Two inches in the first hour", "track", 20, [("snail", 8), ("commentator", 1)], light="day", set="track",
                  reset_minutes=5, after=["start"], unit="main", hazards=["heat"]),
            scene("rattle", "Both sides sing the same song", "stands", 20, [("green", 40), ("orange", 40), ("band", 10)], light="day",
                  set="stands", reset_minutes=5, after=["stands"], hazards=["heat"]),
            scene("shadow", "A bird is seen", "stands", 15, [("green", 20), ("orange", 20), ("commentator", 1)], light="day",
                  set="stands", reset_minutes=5, after=["stands"]),
            scene("finish", "The finish, by a horn", "track", 25,
                  [("snail", 8), ("trainer-comet", 1), ("trainer-thunder", 1), ("judge", 5), ("green", 15), ("orange", 15), ("steward", 4)],
                  light="day", set="track", reset_minutes=10, after=["crawl", "rattle"], props=[{"item": "bell"}], worth=2,
                  crew=[{"job": "first aid", "needs": ["first-aid"]}]),
            scene("prizes", "Everybody wins a lettuce", "stands", 25,
                  [("mayor", 1), ("trainer-comet", 1), ("trainer-thunder", 1), ("snail", 6), ("green", 20), ("orange", 20), ("band", 8)],
                  light="day", set="stands", reset_minutes=10, after=["finish"], props=[{"item": "lettuce", "count": 10}]),
        ],
    }


def main():
    parts = []
    for key, value in production().items():  # a row of a list a line
        if isinstance(value, list):
            rows = ",\n    ".join(json.dumps(row, ensure_ascii=False) for row in value)
            parts.append(f'  "{key}": [\n    {rows}\n  ]')
        else:
            parts.append(f'  "{key}": {json.dumps(value, ensure_ascii=False)}')
    print("{\n" + ",\n".join(parts) + "\n}")


main()
