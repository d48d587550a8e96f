"""The year as a chapter of the guide: what was said, done and seen, from the numbers of one play."""

import collections
import datetime as dt
import html
import statistics

from checks import percent

MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September",
          "October", "November", "December"]
WIDTH, HEIGHT, LEFT, BOTTOM = 720, 260, 56, 34
INK, FEED, WHITE = "#23302a", "#3f7d58", "#b3541e"


def month_of(day):
    return (dt.date(2025, 1, 1) + dt.timedelta(days=day)).month


def picture(year):
    """Strength given by day, and the looks that saw white."""
    days = year.days
    most = 650.0

    def x(day):
        return LEFT + (WIDTH - LEFT - 12) * day / days

    def y(mg_l):
        return HEIGHT - BOTTOM - (HEIGHT - BOTTOM - 16) * mg_l / most

    parts = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" '
             f'font-family="sans-serif" font-size="12" role="img">',
             "<title>Feed strength of every dose over the year, and the looks that saw white</title>",
             f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#fbfaf5"/>']
    for mg_l in (0, 100, 300, 600):
        parts.append(f'<line x1="{LEFT}" x2="{WIDTH - 12}" y1="{y(mg_l):.1f}" y2="{y(mg_l):.1f}" '
                     f'stroke="{INK}" stroke-opacity="0.2"/><text x="{LEFT - 6}" y="{y(mg_l) + 4:.1f}" '
                     f'text-anchor="end" fill="{INK}">{mg_l}</text>')
    parts.append(f'<text x="8" y="12" fill="{INK}">mg/L feed</text>')
    doses = collections.Counter((s[0], s[3]) for s in year.steps)
    for (day, mg_l), number in sorted(doses.items()):
        parts.append(f'<circle cx="{x(day):.1f}" cy="{y(min(mg_l, most)):.1f}" '
                     f'r="{min(4.0, 1.2 + 0.4 * number):.1f}" fill="{FEED}" fill-opacity="0.55"/>')
    for day in sorted({k[0] for k in year.looks if k[2] != "none"}):
        parts.append(f'<path d="M{x(day):.1f} {HEIGHT - BOTTOM - 2} l-3 -8 h6 z" fill="{WHITE}"/>')
    for name, day in year.changes().items():
        parts.append(f'<line x1="{x(day):.1f}" x2="{x(day):.1f}" y1="16" y2="{HEIGHT - BOTTOM}" '
                     f'stroke="{INK}" stroke-dasharray="3 3"/><text x="{x(day) + 4:.1f}" y="26" '
                     f'fill="{INK}">{html.escape(name)}</text>')
    for month in range(0, 12, 2):
        day = (dt.date(2025, month + 1, 1) - dt.date(2025, 1, 1)).days
        if day < days:
            parts.append(f'<text x="{x(day):.1f}" y="{HEIGHT - 12}" fill="{INK}">'
                         f"{MONTHS[month][:3]}</text>")
    parts.append(f'<path d="M{WIDTH - 190} {HEIGHT - 12} l-3 -8 h6 z" fill="{WHITE}"/>'
                 f'<text x="{WIDTH - 182}" y="{HEIGHT - 12}" fill="{INK}">a look that saw white</text>')
    return "\n".join(parts) + "\n</svg>\n"


def table(year):
    rows = ["| month | visits with a round | doses | mg/L, median (most) | sprayed, L | looks | saw white |",
            "| --- | --- | --- | --- | --- | --- | --- |"]
    for month in range(1, 13):
        steps = [s for s in year.steps if month_of(s[0]) == month and s[3] > 0]
        looks = [k for k in year.looks if month_of(k[0]) == month]
        if not steps:
            continue
        strengths = [s[3] for s in steps]
        rounds = len({s[4] for s in steps})
        white = sum(k[2] != "none" for k in looks)
        rows.append(f"| {MONTHS[month - 1]} | {rounds} | {sum(s[5] for s in steps)} | "
                    f"{statistics.median(strengths):.0f} ({max(strengths):.0f}) | "
                    f"{sum(s[6] for s in steps) / 1000:.1f} | {len(looks)} | {white} |")
    return "\n".join(rows)


def chapter(year, figures):
    """The text; `figures` maps what a picture shows to its file."""
    whole = year.checks
    looks, steps = year.looks, [s for s in year.steps if s[3] > 0]
    white = sum(k[2] != "none" for k in looks)
    lines = [
        "# A year at Fernhollow",
        "",
        "The invented Fernhollow Conservatory, played day by day through the program: two visits a day, "
        "a grower at the command line, two phones of which one is rarely online, loggers that drift, "
        "stop and lose hours, a forecast that is wrong by a stated error. How much white a strength "
        "leaves on these leaves is drawn at the start and hidden from the program. Made by "
        f"`tests/year/run.py --story` (seed {year.seed}); every number is of that play, and all air is "
        "invented.",
        "",
        f"Over {year.days} days the program planned {len({s[4] for s in steps})} visits in which somebody "
        f"sprayed: {sum(s[5] for s in steps):,} doses, {sum(s[6] for s in steps) / 1000:.0f} L in all. The "
        f"growers looked {len(looks):,} times and saw white {white} times "
        f"({percent(white, len(looks)):.0f} %); {year.slips()} of these looks were written down wrong on "
        "purpose. Where the program stated a chance of white, it stated "
        f"{100 * statistics.mean(k[1] for k in looks):.1f} % on average; the true chance of these doses "
        f"was {100 * statistics.mean(s[2] for s in steps):.1f} %.",
        "",
        f"![Strength of every dose, and looks that saw white]({figures['strength']})",
        "",
        table(year),
        "",
        "## Four mornings",
        "",
    ]
    for title, text in year.mornings:
        lines += [f"{title}, the whole answer to `guardcell`:", "", "```text", text.rstrip(), "```", ""]
    lines += [
        "## What was learned",
        "",
        f"The threshold at which white shows was {year.truth.threshold:.3f} g/m² at the start. In May "
        "the house changed to another feed with a supplement and a rota. In August the rain barrel was empty for ten days: on "
        "the hard tap water alone nothing was to be sprayed, and the program said with how much rain "
        "it could. In September a volunteer with a heavy hand took over. Each change makes white come "
        "sooner.",
        "",
        f"![The learned threshold at the end of the year]({figures['threshold']})",
        "",
        "After each change, with the first 30 days left out:",
        "",
        "| from | true chance of white | looks that saw white |",
        "| --- | --- | --- |",
    ]
    for name, chance, seen, asked in year.spans():
        names = {"first": "January", "product": "May, new feed", "water": "August, rain again",
                 "hand": "September, heavy hand"}
        lines.append(f"| {names[name]} | {100 * chance:.1f} % | {100 * seen:.1f} % of {asked} |")
    lines += [
        "",
        "## What went wrong, and was kept",
        "",
        "The server was killed while phones were sending, and was off for a week; a disk was full twice; "
        "a backup of two days before was restored; a phone was lost, revoked, found and paired again; "
        "entries were sent twice, corrected and retracted. In the end the journal held "
        f"{len(year.entries):,} entries, the same on every device, and nothing that was acknowledged was "
        "missing.",
        "",
        f"A rescue without roots was soaked every second day until June, when it showed three root tips "
        "and took its place among the weak plants of the round.",
        "",
        "| what was checked | times | broken |",
        "| --- | --- | --- |",
    ]
    for name in sorted(whole.asked):
        lines.append(f"| {name} | {whole.asked[name]:,} | {len(whole.failed.get(name, []))} |")
    return "\n".join(lines) + "\n"
