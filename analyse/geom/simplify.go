package geom

// Simplify leaves out the points of a line that lie within tolerance of what is
// left (Douglas and Peucker, 1973). Its ends stay; those of a closed line are equal.
func Simplify(line []Point, tolerance float64) []Point {
	n := len(line) - 1
	if n < 2 {
		return line
	}
	if n > 4*mostCorners {
		return line // only a crafted line has so many
	}
	keep, kept := make([]bool, n+1), 2
	keep[0], keep[n] = true, true
	work := append(make([][2]int, 0, 32), [2]int{0, n})
	if line[0] == line[n] {
		if far := farthest(line, line[0]); !keep[far] {
			keep[far], kept = true, kept+1
			work = append(work[:0], [2]int{0, far}, [2]int{far, n})
		}
	}
	for len(work) > 0 {
		a, b := work[len(work)-1][0], work[len(work)-1][1]
		work = work[:len(work)-1]
		far, at := tolerance*tolerance, -1
		from, way := line[a], line[b].Sub(line[a])
		l := way.Dot(way)
		for i, q := range line[a+1 : b] {
			x, y := q.X-from.X, q.Y-from.Y
			if along := x*way.X + y*way.Y; along > 0 {
				t := 1.0
				if along < l {
					t = along / l
				}
				x, y = x-t*way.X, y-t*way.Y
			}
			if d := x*x + y*y; d > far {
				far, at = d, a+1+i
			}
		}
		if at >= 0 {
			keep[at], kept = true, kept+1
			work = append(work, [2]int{a, at}, [2]int{at, b})
		}
	}
	out := make([]Point, 0, kept)
	for i, p := range line {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}

func farthest(line []Point, q Point) int {
	at, far := 0, -1.0
	for i, p := range line {
		if d := Distance(p, q); d > far {
			at, far = i, d
		}
	}
	return at
}
