#!/usr/bin/env python3
"""Write zone_clock.csv: readings of a wall clock against elapsed minutes, after Python's zoneinfo.

usage: make_zone_clock.py > zone_clock.csv

An outside opinion about tests/time/day_clock_test.cpp: Python's own zone code (datetime, zoneinfo,
fold=0 as PEP 495 says) over the same zone database. Run once, 2026-11-25, with Python 3.11.7 and
Debian's tzdata 2026f; needed again only to add rows. Past dates, so that new laws
change nothing; and 2038, 2044 and 2099, by the rules in force in 2026: a zone whose law changes
needs its rows made again.
"""
import datetime as dt
import random
from zoneinfo import ZoneInfo

NIGHTS = [  # zone, date of the change; the day before and after are asked too
    ("Europe/London", "2025-03-30"), ("Europe/London", "2025-10-26"),
    ("Europe/Dublin", "2025-03-30"), ("Europe/Dublin", "2025-10-26"),
    ("America/New_York", "2025-03-09"), ("America/New_York", "2025-11-02"),
    ("Australia/Lord_Howe", "2025-04-06"), ("Australia/Lord_Howe", "2025-10-05"),
    ("Pacific/Apia", "2011-12-29"), ("Pacific/Apia", "2011-12-31"),
    ("America/Sao_Paulo", "2018-11-04"), ("America/Sao_Paulo", "2018-02-17"),
    ("America/Havana", "2025-03-09"), ("America/Havana", "2025-11-02"),
    ("Africa/Casablanca", "2025-02-23"), ("Africa/Casablanca", "2025-04-06"),
    ("America/Mexico_City", "2022-10-30"), ("America/Mexico_City", "2024-04-07"),
    ("Asia/Kathmandu", "2025-07-04"), ("Asia/Kathmandu", "1986-01-01"),
    ("Asia/Pyongyang", "2018-05-04"), ("Antarctica/Troll", "2025-03-30"),
    ("Antarctica/Troll", "2025-10-26"), ("Pacific/Kwajalein", "1993-08-20"),
    ("Asia/Tehran", "2022-03-22"), ("America/Caracas", "2016-05-01"),
]
SPREAD = ["Africa/Cairo", "America/Asuncion", "America/Nuuk", "America/St_Johns", "Asia/Amman",
          "Asia/Gaza", "Asia/Kolkata", "Asia/Tokyo", "Atlantic/Azores", "Australia/Sydney",
          "Europe/Chisinau", "Europe/Istanbul", "Europe/Lisbon", "Pacific/Auckland",
          "Pacific/Chatham", "Pacific/Fiji", "UTC"]


def row(zone, date, wall):
    place = ZoneInfo(zone)
    midnight = dt.datetime.combine(date, dt.time(), place).astimezone(dt.timezone.utc)
    day, minute = divmod(wall, 1440)
    local = dt.datetime.combine(date + dt.timedelta(days=day), dt.time(minute // 60, minute % 60), place)
    seconds = (local.astimezone(dt.timezone.utc) - midnight).total_seconds()
    assert seconds % 60 == 0
    print(f"{zone},{date},{midnight:%Y-%m-%dT%H:%M:%SZ},{wall // 60:02}:{wall % 60:02},{seconds / 60:.0f}")


def changes_of(place, year):
    """Dates of a year with a change, and midsummer."""
    noon = lambda date: dt.datetime.combine(date, dt.time(12), place).utcoffset()
    days = [dt.date(year, 1, 1) + dt.timedelta(days=n) for n in range(365)]
    return [b for a, b in zip(days, days[1:]) if noon(a) != noon(b)] + [dt.date(year, 7, 1)]


def main():
    print("# made by make_zone_clock.py (Python 3.11.7 zoneinfo, tzdata 2026f); see there")
    print("# zone,date,local midnight in UTC,reading,elapsed minutes since that midnight")
    for zone, text in NIGHTS:
        for offset in (-1, 0, 1):
            date = dt.date.fromisoformat(text) + dt.timedelta(days=offset)
            if (zone, str(date)) in (("Pacific/Apia", "2011-12-30"), ("Pacific/Kwajalein", "1993-08-21")):
                continue  # there was no such day
            dense = range(0, 1800, 30) if offset == 0 else range(0, 1800, 360)
            for wall in sorted(set(dense) | {59, 119, 121, 179, 181, 1439, 1441, 2879, 4320, 5999}):
                row(zone, date, wall)
    # by the rule at the end of its file; not Morocco, whose years to come each release lays anew
    for zone in SPREAD + sorted({zone for zone, _ in NIGHTS} - {"Africa/Casablanca"}):
        for year in (2038, 2044, 2099):
            for date in changes_of(ZoneInfo(zone), year):
                for wall in (0, 59, 121, 179, 1439, 1500, 2879, 5999):
                    row(zone, date, wall)
    draw = random.Random(7)
    for _ in range(500):
        date = dt.date(1990, 1, 1) + dt.timedelta(days=draw.randrange(13000))
        row(draw.choice(SPREAD), date, draw.randrange(6000))


main()
