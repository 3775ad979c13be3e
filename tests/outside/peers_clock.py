"""What peers are timed by: the time that passes, or, on a machine that does other work too, what processors spend on it."""

import statistics
import sys
import time

IS_BUSY = "--busy" in sys.argv

RUNS = 5

clock = time.process_time if IS_BUSY else time.perf_counter


def median(run):
    """Seconds that something takes, and what it gives."""
    times = []
    for _ in range(RUNS):
        start = clock()
        given = run()
        times.append(clock() - start)
    return statistics.median(times), given
