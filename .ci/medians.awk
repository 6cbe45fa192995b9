# Makes a table of benchmarks called NAME/ENTRIES/KIND that report median-ns and longest-ns:
# a row for each number of entries and a column for each kind, in ms, the longest in
# brackets. Where they report peak-bytes, a second table has their memory in MB.
#
#	awk -v title=TITLE -v machine=WORDS -f .ci/medians.awk OUTPUT >TABLE
/^Benchmark[A-Za-z]+\/[0-9a-z]+\/[a-z]+/ {
	split($1, name, "/"); sub(/-[0-9]+$/, "", name[3]); split("", figure)
	for (i = 3; i < NF; i += 2) figure[$(i + 1)] = $i
	if (!(name[3] in seen)) { seen[name[3]] = 1; order[++kinds] = name[3] }
	if (!(name[2] in known)) { known[name[2]] = 1; sizes[++many] = name[2] }
	median[name[2], name[3]] = figure["median-ns"] / 1e6; longest[name[2], name[3]] = figure["longest-ns"] / 1e6
	if ("peak-bytes" in figure) { peaks++; peak[name[2], name[3]] = figure["peak-bytes"] / 1e6 }
}
function head(   k) {
	printf "%9s", "entries"
	for (k = 1; k <= kinds; k++) printf "%16s", order[k]
	print ""
}
function short(ms) { return ms < 10 ? sprintf("%.2g", ms) : sprintf("%.0f", ms) }
END {
	print title; print machine; print ""
	head()
	for (s = 1; s <= many; s++) {
		printf "%9s", sizes[s]
		for (k = 1; k <= kinds; k++) printf "%16s", short(median[sizes[s], order[k]]) " (" short(longest[sizes[s], order[k]]) ")"
		print ""
	}
	if (!peaks) exit
	print ""; print "the most memory of the process, MB"
	head()
	for (s = 1; s <= many; s++) {
		printf "%9s", sizes[s]
		for (k = 1; k <= kinds; k++) printf "%16.0f", peak[sizes[s], order[k]]
		print ""
	}
}
