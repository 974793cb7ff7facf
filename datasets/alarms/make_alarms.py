#!/usr/bin/env python3
"""Makes the two alarm demos beside it; the same seed gives the same bytes."""
import math
import random
from datetime import datetime, timedelta

BEGIN = datetime(2026, 5, 4, 6, 0, 0)


def stamp(seconds):
    return (BEGIN + timedelta(seconds=seconds)).strftime("%Y-%m-%d %H:%M:%S")


def yard_journal(path, seed):
    """Nine days of the controllers on Lapwing Quay, as a journal of states."""
    r = random.Random(seed)
    rows = []

    def alarm(at, unit, tag, level, seconds):
        rows.append((at, unit, tag, level, "ALM"))
        if seconds is not None:
            rows.append((at + seconds, unit, tag, level, "RTN"))

    day = 86400
    for d in range(9):
        # The float switch of the hulk's bilge bounces when the ferry passes.
        for hour in (7, 12, 17):
            t = d * day + (hour - 6) * 3600 + int(r.random() * 600)
            for _ in range(6 + int(r.random() * 8)):
                on = 2 + int(r.random() * 4)
                alarm(t, "Hulk", "BILGE_HIGH", "medium", on)
                t += on + 3 + int(r.random() * 6)
        # Now and then a warning that means something.
        if r.random() < 0.5:
            alarm(d * day + int(r.random() * 40000), "Ferry", "FUEL_LOW",
                  "low", 1200 + int(r.random() * 3000))
        if r.random() < 0.4:
            alarm(d * day + int(r.random() * 40000), "Ferry", "BATT_LOW",
                  "low", 300 + int(r.random() * 900))
    # The crane set loses its cooling water four times: always the same order.
    for d, hour in ((1, 3), (3, 5), (6, 2), (8, 6)):
        t = d * day + hour * 3600 + int(r.random() * 1800)
        alarm(t, "Crane", "RAW_WATER_FLOW_LOW", "medium", 900)
        t1 = t + 25 + int(r.random() * 10)
        alarm(t1, "Crane", "EXHAUST_TEMP_HIGH", "medium", 700)
        t2 = t1 + 14 + int(r.random() * 6)
        alarm(t2, "Crane", "EXHAUST_TEMP_TRIP", "high", 600)
        alarm(t2 + 1, "Crane", "FREQ_LOW", "low", 40)
        alarm(t2 + 1, "Crane", "VOLT_LOW", "low", 40)
    # A panel that nobody has wired stands for days.
    alarm(2 * day + 5000, "Hulk", "REMOTE_PANEL_LOST", "low", 5 * day)
    rows.sort(key=lambda row: row[0])
    with open(path, "w", newline="") as out:
        out.write("time,unit,tag,priority,state\n")
        for at, unit, tag, level, state in rows:
            out.write(f"{stamp(at)},{unit},{tag},{level},{state}\n")


def coolant_log(path, seed):
    """Two hours of the tender Dotterel: coolant close to its warning limit."""
    r = random.Random(seed)
    limit = 96.0
    noise = 0.0
    on = False
    with open(path, "w", newline="") as out:
        out.write("time,engine speed (rpm),power (kW),coolant temp (degC),"
                  "alarms\n")
        for s in range(0, 7200, 2):
            if s < 1500:
                mean = 60 + 33.0 * (1 - math.exp(-s / 400.0))
            else:
                mean = 94.6 + 2.2 * math.sin((s - 1500) / 520.0)
            noise = 0.6 * noise + 0.35 * (r.random() + r.random() - 1.0)
            value = round(mean + noise, 1)
            on = value >= limit
            speed = 1500 + round(4 * (r.random() - 0.5))
            power = 21.0 + round(2 * (r.random() - 0.5), 1)
            out.write(f"{stamp(s)},{speed},{power:.1f},{value:.1f},"
                      f"{'High coolant temperature' if on else ''}\n")


yard_journal("lapwing-quay.csv", 20260504)
coolant_log("dotterel.csv", 7)
