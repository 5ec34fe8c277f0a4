# Spread factors by class of block from measured cores and twins. Input: the rows of cores, then those of twins.
#
# One observation for each core: x = mean over 4 and 6 inputs of ln(measured LUTs / our LUTs). Pools: functions fixed by
# mathematics (twins count there too, since another form of the same function is another design) and all others; processors,
# whose instruction sets differ more than designers do, don't count in the pool of the others but lean on both.
#   centre of a class  m = (sum x + k M) / (n + k)          M, S: mean and deviation of the pool, k = 3 pseudo-cores
#   deviation          s = sqrt((sum (x - m)^2 + k S^2) / (n + k))
#   nine in ten        exp(m - q s) .. exp(m + q s), and at least 5 % to both sides, where q is what one more design needs
#                      if centre and deviation come from a sample: q = t sqrt(1 + 1 / (n + k)), t the 95 % point of
#                      Student's distribution with one degree of freedom less than the pool has cores
# The low end of a class is not above that of its pool: a sum of blocks lacks the logic between them, which moves the
# centre upwards. The catalog has the factors rounded outwards to 0.05.
# The high end of check values comes from the two forms that authors write (docs/validation.md), not from cores.
# Cross-validation: each core is judged by the range fitted without it, both LUT sizes one by one.
BEGIN { FS = "|"; split("crc scrambler code-table", list, " "); for (i in list) pool_of_class[list[i]] = "fixed"; pool_of_class["processor"] = "processors"; pseudo = 3; two_forms_of_crc = 1.65 }
FNR == 1 { ++file }
function counts_in(i, pool) { return pool_of[i] == pool || (pool == "processors" && pool_of[i] == "free") }
function pool_name(class) { return class in pool_of_class ? pool_of_class[class] : "free" }
function note(class, name, inputs, ratio) {
  if (!((class, name) in slot)) { slot[class, name] = ++count; class_of[count] = class; name_of[count] = name; pool_of[count] = pool_name(class) }
  i = slot[class, name]; total[i] += log(ratio); ++sizes[i]; log_of[i, sizes[i]] = log(ratio)
}
FILENAME ~ /hardware.csv$/ { if (FNR > 1) { split($0, cell, ","); theirs[cell[1], cell[3]] = cell[4] } next }
FILENAME ~ /cores$/ { split($5, ours, " "); note($1, $2, $4, theirs[$2, $4] / ours[1]); next }
{ split($5, ours, " "); split($6, synthesis, " ")
  class = $1 == "crc" ? "crc" : $1 == "scrambler" ? "scrambler" : $1 == "symbol-code" ? "code-table" : ""
  if (class != "" && ours[1] > 0) note(class, "twin " $3, $4, synthesis[1] / ours[1]) }
# 95 % point of Student's distribution, by the expansion about the normal one (Abramowitz and Stegun 26.7.5; from memory).
function student(freedom,  z) {
  z = 1.645
  return z + (z ^ 3 + z) / (4 * freedom) + (5 * z ^ 5 + 16 * z ^ 3 + 3 * z) / (96 * freedom ^ 2)
}
# Sets low and high for a class without observation `skip`.
function fit(class, skip,  pool, n, sum, squares, all, mean, deviation, i, q) {
  pool = pool_name(class)
  for (i = 1; i <= count; ++i) if (i != skip && counts_in(i, pool)) { ++all; mean += total[i] / sizes[i] }
  mean /= all
  for (i = 1; i <= count; ++i) if (i != skip && counts_in(i, pool)) deviation += (total[i] / sizes[i] - mean) ^ 2
  deviation /= all - 1
  for (i = 1; i <= count; ++i) if (i != skip && class_of[i] == class) { ++n; sum += total[i] / sizes[i] }
  centre = (sum + pseudo * mean) / (n + pseudo)
  for (i = 1; i <= count; ++i) if (i != skip && class_of[i] == class) squares += (total[i] / sizes[i] - centre) ^ 2
  spread = sqrt((squares + pseudo * deviation) / (n + pseudo))
  q = student(all - 1) * sqrt(1 + 1 / (n + pseudo))
  low = exp(centre - q * spread); high = exp(centre + q * spread)
  pool_low = exp(mean - student(all - 1) * sqrt(deviation * (1 + 1 / all)))
  if (low > pool_low) low = pool_low
  if (low > 0.95) low = 0.95
  if (high < 1.05) high = 1.05
  if (class == "crc" && high < two_forms_of_crc) high = two_forms_of_crc
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
