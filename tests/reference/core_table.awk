# From hardware.csv and the sums of validate.sh to the table of measured cores.
# A line `MISSED ...` tells that too few are inside.
FNR == 1 { ++file }
file == 1 && FNR > 1 { split($0, cell, ","); theirs[cell[1], cell[3]] = cell[4] " " cell[5] }
file == 2 {
  split($0, cell, "|")
  split(cell[5], ours, " "); split(theirs[cell[2], cell[4]], measured, " ")
  inside = measured[1] >= ours[5] && measured[1] <= ours[6]
  row[++count] = sprintf("| %s | %s | %d | %d..%d..%d | %d | %s | %+.0f %% | %d | %d |", cell[1], cell[2], cell[4], ours[5], ours[1], ours[6], measured[1], inside ? "yes" : "no", 100 * (ours[1] / measured[1] - 1), ours[2], measured[2])
  number_inside += inside
  error = ours[1] / measured[1] - 1
  errors[count] = error < 0 ? -error : error
}
END {
  print ""
  print "| class | core | LUT inputs | LUTs ours, low..typical..high | measured | inside | typical against measured | registers ours | measured |"
  print "|---|---|---|---|---|---|---|---|---|"
  for (i = 1; i <= count; ++i) print row[i]
  for (i = 2; i <= count; ++i)
    for (j = i; j > 1 && errors[j - 1] > errors[j]; --j) { held = errors[j]; errors[j] = errors[j - 1]; errors[j - 1] = held }
  median = count % 2 ? errors[(count + 1) / 2] : (errors[count / 2] + errors[count / 2 + 1]) / 2
  print ""
  printf "%d of %d rows inside (%.0f %%); the typical value is off by %.0f %% at the median.\n", number_inside, count, 100 * number_inside / count, 100 * median
  print ""
  if (number_inside < 0.85 * count) print "MISSED only " number_inside " of " count " measured cores are inside their range"
}
