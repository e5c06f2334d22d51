package main

import (
	"context"
	"fmt"
	"iter"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"
)

// No more designs are held than a few for each worker, however slow the one at
// the front.
func TestScheduleWindow(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	const jobs = 3
	var begun atomic.Int32
	first := make(chan struct{})
	sources := func(yield func(source) bool) {
		for i := range 1000 {
			if !yield(source{path: fmt.Sprint(i)}) {
				return
			}
		}
	}
	order, free := schedule(ctx, sources, jobs, func(k *task[int]) int64 {
		begun.Add(1)
		if k.src.path == "0" {
			<-first
		}
		return 0
	})
	time.Sleep(50 * time.Millisecond) // let the others run ahead as far as they can
	if n := begun.Load(); n > 4*jobs {
		t.Errorf("%d designs begun while the first was not done", n)
	}
	close(first)
	i := 0
	for k := range order {
		<-k.done
		if k.src.path != fmt.Sprint(i) {
			t.Fatalf("%s came at place %d", k.src.path, i)
		}
		free(k)
		i++
	}
	if i != 1000 {
		t.Errorf("%d of 1000 came", i)
	}
}

// The largest designs are held one at a time, however many jobs there are, and small ones
// as many as there are jobs for.
func TestScheduleWeighs(t *testing.T) {
	const jobs = 4
	for size, most := range map[int64]int32{mostAtOnce: 1, mostAtOnce + 1: 1, mostAtOnce / 2: 2, 1000: jobs} {
		var held, peak atomic.Int32
		sources := func(yield func(source) bool) {
			for i := range 40 {
				if !yield(source{path: fmt.Sprint(i), size: size}) {
					return
				}
			}
		}
		order, free := schedule(context.Background(), sources, jobs, func(k *task[int]) int64 {
			n := held.Add(1)
			for old := peak.Load(); n > old && !peak.CompareAndSwap(old, n); old = peak.Load() {
			}
			time.Sleep(time.Millisecond)
			if most == jobs {
				held.Add(-1) // such are limited by the jobs, not by what waits to be taken
			}
			return 0
		})
		n := 0
		for k := range order {
			<-k.done
			if most != jobs {
				held.Add(-1)
			}
			free(k)
			n++
		}
		if got := peak.Load(); got > most || n != 40 {
			t.Errorf("%d bytes each: %d at a time, want %d; %d came", size, got, most, n)
		}
	}
}

// recorded is what check --lines took for the demos and for designs that people gave
// away: bytes of the file, microseconds of one processor, bytes of the text.
var recorded = [][3]int64{
	{10607, 1074, 3357}, {6746, 927, 3459}, {2312, 542, 3313}, {1218, 568, 3414}, {4157, 480, 3338},
	{2446, 484, 3417}, {8999, 698, 2464}, {5670, 748, 3041}, {2537, 361, 3333}, {1366, 479, 3408},
	{752, 58, 2347}, {158, 70, 2448}, {3734, 466, 3302}, {2166, 440, 3402}, {36483, 15151, 96201},
	{14792, 4207, 18549}, {7227, 1069, 4611}, {31429, 16458, 20738}, {79422, 8138, 9841}, {9865, 5894, 13326},
	{25398, 3162, 10167}, {17149, 9336, 15839}, {51046, 6051, 5641}, {24409, 22493, 16380},
	{98246, 7125, 14541}, {11927, 5329, 41112}, {3422, 254, 2391}, {1938, 257, 2492}, {8705, 2324, 3009},
	{48895, 16954, 88074}, {31357, 24307, 28831}, {20828, 10356, 34942}, {66645, 20068, 43979},
	{38543, 28724, 75294}, {26308, 27210, 75205}, {31005, 29685, 75202}, {50162, 34560, 77850},
	{34298, 33949, 77763}, {38619, 33765, 77756}, {38693, 44734, 82499}, {61979, 37088, 84644},
	{62342, 38634, 79856}, {42582, 36405, 79766}, {46603, 37696, 79751}, {31233, 16391, 21934},
	{15965, 10537, 21252}, {10031, 7076, 31969}, {7260, 4849, 35041}, {5564, 2525, 4237}, {7054, 2996, 6602},
	{124798, 31890, 49370}, {2587, 1806, 5959}, {6003, 960, 4497}, {7893, 1545, 5947}, {842, 184, 4946},
	{27821, 23146, 74823}, {23190, 22035, 74742},
}

// replay runs designs with those measures through schedule on a clock that jumps from one
// event to the next, and gives when each came out.
func replay(t *testing.T, jobs int, designs iter.Seq[[3]int64]) (came []time.Duration, busy time.Duration) {
	synctest.Test(t, func(t *testing.T) {
		start := time.Now()
		sources := func(yield func(source) bool) {
			for d := range designs {
				if !yield(source{size: d[0], named: fmt.Sprint(d[1]), path: fmt.Sprint(d[2])}) {
					return
				}
			}
		}
		var work atomic.Int64
		order, free := schedule(t.Context(), sources, jobs, func(k *task[int]) (kept int64) {
			var us int64
			fmt.Sscan(k.src.named, &us)
			fmt.Sscan(k.src.path, &kept)
			time.Sleep(time.Duration(us) * time.Microsecond)
			work.Add(us)
			return kept
		})
		for k := range order {
			<-k.done
			came = append(came, time.Since(start))
			free(k)
		}
		busy = time.Duration(work.Load()) * time.Microsecond
	})
	return came, busy
}

// times repeats the recorded designs, and puts others between them by their place.
func times(n int, others map[int][3]int64) iter.Seq[[3]int64] {
	return func(yield func([3]int64) bool) {
		for i := range n {
			if d, ok := others[i]; ok && !yield(d) || !yield(recorded[i%len(recorded)]) {
				return
			}
		}
	}
}

// Work is shared out among all processors, with designs that take long among the rest too.
func TestScheduleShares(t *testing.T) {
	// As long as a hundred of the others: half a million stitches.
	long := [3]int64{2 << 20, 1.5e6, 2 << 20}
	for _, c := range []struct {
		jobs  int
		least float64 // times as fast as one
	}{{1, 1}, {2, 1.95}, {8, 7.5}, {16, 14}} {
		for name, others := range map[string]map[int][3]int64{
			"usual": nil, "long at first": {0: long}, "long between": {700: long, 2500: long}, "long together": {700: long, 702: long, 704: long},
		} {
			came, busy := replay(t, c.jobs, times(4000, others))
			took := came[len(came)-1]
			if got := busy.Seconds() / took.Seconds(); got < c.least {
				t.Errorf("%s, %d jobs: %.2f times as fast as one, want %g", name, c.jobs, got, c.least)
			} else {
				t.Logf("%s, %d jobs: %.2f times as fast as one", name, c.jobs, got)
			}
		}
	}
}

// What stands behind a design that takes long comes when that is done, and none of it later:
// it was made meanwhile.
func TestScheduleGoesOnBehind(t *testing.T) {
	const jobs, behind = 8, 400
	long := [3]int64{2 << 20, 1.5e6, 2 << 20}
	came, _ := replay(t, jobs, times(behind, map[int][3]int64{0: long}))
	if first, last := came[0], came[behind]; last > first {
		t.Errorf("the long one came after %v, the last behind it after %v", first, last)
	}
}

// However long the first takes, no more text is held than there is room for.
func TestScheduleBoundsText(t *testing.T) {
	const jobs, kept = 4, 1 << 20
	var begun atomic.Int64
	synctest.Test(t, func(t *testing.T) {
		sources := func(yield func(source) bool) {
			for i := 0; yield(source{size: int64(i)}); i++ {
			}
		}
		ctx, stop := context.WithCancel(t.Context())
		schedule(ctx, sources, jobs, func(k *task[int]) int64 {
			if k.src.size == 0 {
				<-ctx.Done()
			}
			begun.Add(1)
			return kept
		})
		synctest.Wait()
		if held := begun.Load() * kept; held > 2*jobs*aheadShare || held < jobs*aheadShare {
			t.Errorf("%d bytes are held", held)
		}
		stop()
		synctest.Wait()
	})
}
