# Spread factors by class of block from measured cores and twins. Input: the rows of cores, then those of twins.
#
# One observation for each core: x = mean over 4 and 6 inputs of ln(measured LUTs / our LUTs). Two pools: functions fixed
# by mathematics (twins count there too, since another form of the same function is another design) and all others.
#   centre of a class  m = (sum x + k M) / (n + k)          M, S: mean and deviation of the pool, k = 3 pseudo-cores
#   deviation          s = sqrt((sum (x - m)^2 + k S^2) / (n + k))
#   nine in ten        exp(m - 1.645 s) .. exp(m + 1.645 s), and at least 5 % to both sides
# The low end of a class is not above that of its pool: a sum of blocks lacks the logic between them, which moves the
# centre upwards. The catalog has the factors rounded outwards to 0.05.
# Cross-validation: each core is judged by the range fitted without it, both LUT sizes one by one.
BEGIN { FS = "|"; split("crc scrambler code-table", list, " "); for (i in list) is_fixed[list[i]] = 1; pseudo = 3 }
FNR == 1 { ++file }
function note(class, name, inputs, ratio) {
  if (!((class, name) in slot)) { slot[class, name] = ++count; class_of[count] = class; name_of[count] = name; pool_of[count] = class in is_fixed }
  i = slot[class, name]; total[i] += log(ratio); ++sizes[i]; log_of[i, sizes[i]] = log(ratio)
}
FILENAME ~ /hardware.csv$/ { if (FNR > 1) { split($0, cell, ","); if (!((cell[1], cell[3]) in theirs)) theirs[cell[1], cell[3]] = cell[4] } next }
FILENAME ~ /cores$/ { split($5, ours, " "); note($1, $2, $4, theirs[$2, $4] / ours[1]); next }
{ split($5, ours, " "); split($6, synthesis, " ")
  class = $1 == "crc" ? "crc" : $1 == "scrambler" ? "scrambler" : $1 == "symbol-code" ? "code-table" : ""
  if (class != "" && ours[1] > 0) note(class, "twin " $3, $4, synthesis[1] / ours[1]) }
# Sets low and high for a class without observation `skip`.
function fit(class, skip,  pool, n, sum, squares, all, mean, deviation, i) {
  pool = class in is_fixed
  for (i = 1; i <= count; ++i) if (i != skip && pool_of[i] == pool) { ++all; mean += total[i] / sizes[i] }
  mean /= all
  for (i = 1; i <= count; ++i) if (i != skip && pool_of[i] == pool) deviation += (total[i] / sizes[i] - mean) ^ 2
  deviation /= all - 1
  for (i = 1; i <= count; ++i) if (i != skip && class_of[i] == class) { ++n; sum += total[i] / sizes[i] }
  centre = (sum + pseudo * mean) / (n + pseudo)
  for (i = 1; i <= count; ++i) if (i != skip && class_of[i] == class) squares += (total[i] / sizes[i] - centre) ^ 2
  spread = sqrt((squares + pseudo * deviation) / (n + pseudo))
  low = exp(centre - 1.645 * spread); high = exp(centre + 1.645 * spread)
  pool_low = exp(mean - 1.645 * sqrt(deviation))
  if (low > pool_low) low = pool_low
  if (low > 0.95) low = 0.95
  if (high < 1.05) high = 1.05
  members = n + 0
}
END {
  print ""
  print "| class | observations | centre | low factor | high factor | rounded outwards |"
  print "|---|---|---|---|---|---|"
  for (i = 1; i <= count; ++i) if (!(class_of[i] in known)) { known[class_of[i]] = 1; order[++classes] = class_of[i] }
  order[++classes] = "default"
  for (c = 1; c <= classes; ++c) { fit(order[c], 0); printf "| %s | %d | %.2f | %.2f | %.2f | %.2f..%.2f |\n", order[c], members, exp(centre), low, high, int(low * 20) / 20, int(high * 20 + 0.999) / 20 }
  for (i = 1; i <= count; ++i) {
    if (name_of[i] ~ /^twin/) continue
    fit(class_of[i], i)
    for (k = 1; k <= sizes[i]; ++k) { ++judged; if (exp(log_of[i, k]) >= low && exp(log_of[i, k]) <= high) ++inside; else outside = outside (outside == "" ? "" : ", ") name_of[i] }
  }
  print ""
  printf "Leave one core out: %d of %d rows inside (%.0f %%).", inside, judged, 100 * inside / judged
  if (outside != "") printf " Outside: %s.", outside
  print "\n"
}
