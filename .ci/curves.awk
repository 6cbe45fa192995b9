# Draws a table of times as SVG: both axes are powers of ten, each kind of run has a dash
# and a marker of its own. The table has a title, the machine, an empty line, the names of
# the columns, and for each number of entries the median of each kind in ms and, in
# brackets, the longest. What begins after another empty line is not drawn, nor is a row
# whose name is no number.
#
#	awk -v title=TITLE -v under=WORDS -f .ci/curves.awk TABLE >PICTURE
function x(n) { return 70 + 130 * (log(n) / log(10) - 3) }
function y(ms) { return 340 - 300 / (high - low) * (log(ms) / log(10) - low) }
function label(p) { return p < 0 ? 10 ^ (p + 3) " µs" : p < 3 ? 10 ^ p " ms" : 10 ^ (p - 3) " s" }
NR == 2 { machine = $0; next }
NR == 4 { for (k = 2; k <= NF; k++) kind[k - 1] = $k; kinds = NF - 1; next }
NR > 4 && !NF { over = 1 }
NR > 4 && !over && $1 ~ /^[0-9]+$/ {
	size[++many] = $1
	for (k = 1; k <= kinds; k++) {
		took[many, k] = $(2 * k); p = log($(2 * k)) / log(10)
		if (!seen++ || p < least) least = p
		if (seen == 1 || p > most) most = p
	}
}
END {
	low = int(least); if (low > least) low--
	high = int(most); if (high < most) high++
	split("none;8 4;2 3;12 4 2 4;1 5;5 5;10 3 2 3 2 3;16 4", dash, ";")
	split("\342\227\213 \342\227\217 \342\226\241 \342\226\240 \342\226\263 \342\226\262 \342\227\207 \342\227\206", mark, " ")
	print "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 640 420\" font-family=\"sans-serif\" font-size=\"12\" role=\"img\">"
	print "<title>" title ": " machine "</title>"
	print "<rect width=\"640\" height=\"420\" fill=\"#fff\"/>"
	for (p = 3; p <= 6; p++) printf "<path d=\"M%d 40V340\" stroke=\"#bbb\"/><text x=\"%d\" y=\"358\" text-anchor=\"middle\">%d</text>\n", x(10 ^ p), x(10 ^ p), 10 ^ p
	for (p = low; p <= high; p++) printf "<path d=\"M70 %dH460\" stroke=\"#bbb\"/><text x=\"62\" y=\"%d\" text-anchor=\"end\">%s</text>\n", y(10 ^ p), y(10 ^ p) + 4, label(p)
	printf "<text x=\"265\" y=\"378\" text-anchor=\"middle\">%s</text>\n<text x=\"10\" y=\"404\" font-size=\"10\">%s</text>\n", under, machine
	for (k = 1; k <= kinds; k++) {
		points = ""
		for (s = 1; s <= many; s++) {
			points = points sprintf("%.1f,%.1f ", x(size[s]), y(took[s, k]))
			printf "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\">%s</text>\n", x(size[s]), y(took[s, k]) + 4, mark[k]
		}
		printf "<polyline points=\"%s\" fill=\"none\" stroke=\"#000\" stroke-dasharray=\"%s\"/>\n", points, dash[k]
		printf "<path d=\"M480 %dh40\" stroke=\"#000\" stroke-dasharray=\"%s\"/><text x=\"500\" y=\"%d\" text-anchor=\"middle\">%s</text><text x=\"528\" y=\"%d\">%s</text>\n", 60 + 24 * k, dash[k], 64 + 24 * k, mark[k], 64 + 24 * k, kind[k]
	}
	print "</svg>"
}
