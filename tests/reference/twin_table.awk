# From the rows of validate.sh to the table of twins and its summary. A line `MISSED ...` names each limit that is missed.
BEGIN {
  FS = "|"
  print ""
  print "| block | settings | LUT inputs | LUTs ours | synthesis | error | registers ours | synthesis | levels ours | synthesis | RAM bits ours | synthesis |"
  print "|---|---|---|---|---|---|---|---|---|---|---|---|"
}
function percent(value) { return sprintf("%+.1f %%", 100 * value) }
function magnitude(value) { return value < 0 ? -value : value }
function relative(ours, theirs) { return theirs == 0 ? (ours == 0 ? 0 : 1) : ours / theirs - 1 }
{
  split($5, ours, " "); split($6, theirs, " ")
  error = relative(ours[1], theirs[1])
  printf "| %s | `%s` | %d | %d | %d | %s | %d | %d | %d | %d | %d | %d |\n", $1, $2, $4, ours[1], theirs[1], percent(error), ours[2], theirs[2], ours[3], theirs[3], ours[4], theirs[4]
  name = $1 " " $2 ", " $4 " inputs"
  errors[++count] = magnitude(error)
  if (!($3 in seen)) { seen[$3] = 1; ++twins }
  if (magnitude(error) > worst) { worst = magnitude(error); worst_name = name }
  if (magnitude(error) > 0.25) missed[++misses] = name ": LUTs off by " percent(error)
  if (magnitude(error) > 0.15) ++far
  if (magnitude(relative(ours[2], theirs[2])) > 0.05) missed[++misses] = name ": registers " ours[2] " against " theirs[2]
  if (magnitude(ours[3] - theirs[3]) > 1) missed[++misses] = name ": levels " ours[3] " against " theirs[3]
}
END {
  for (i = 2; i <= count; ++i)
    for (j = i; j > 1 && errors[j - 1] > errors[j]; --j) { held = errors[j]; errors[j] = errors[j - 1]; errors[j - 1] = held }
  median = count % 2 ? errors[(count + 1) / 2] : (errors[count / 2] + errors[count / 2 + 1]) / 2
  if (median > 0.08) missed[++misses] = "median LUT error " percent(median)
  print ""
  printf "%d twins, %d rows. Absolute LUT error: median %.1f %%, worst %.1f %% (%s), %d rows above 15 %%.\n", twins, count, 100 * median, 100 * worst, worst_name, far
  if (misses == 0) print "All limits are met."
  else { print "Limits missed:\n"; for (i = 1; i <= misses; ++i) print "- " missed[i] }
  print ""
  for (i = 1; i <= misses; ++i) print "MISSED " missed[i]
}
