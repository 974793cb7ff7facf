# What somebody would write by hand: read, parse the times, a minute's rolling
# mean and deviation of every channel, and a summary.
import sys

import pandas

log = pandas.read_csv(sys.argv[1])
time = log.columns[0]
log[time] = pandas.to_datetime(log[time])
log = log.set_index(time)
means = log.rolling("60s").mean()
deviations = log.rolling("60s").std()
print(log.describe().to_string())
print(means.iloc[-1].to_string())
print(deviations.iloc[-1].to_string())
