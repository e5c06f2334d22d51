package applique

// The tolerances of recognition, all in one table. They hold for designs as they
// are drawn, at scale 1. Where no source is given a value is common practice of
// digitised work, no single source; each has a test on either side of it.
const (
	// Lines.
	closesWithin = 2.0  // mm between the ends of a line that counts as closed: less than one long stitch
	joinsWithin  = 1.2  // mm between two parts of one line sewn after another: rounding and a short stitch
	specks       = 0.8  // mm: shorter scraps of a line are ties and corners
	traceStep    = 1.0  // mm between points of a trace at most
	bandedLeast  = 0.95 // share of a zigzag's way that its bands must go along
	loopNear     = 0.7  // mm: a line this near to a place it left closes a loop
	loopApart    = 8.0  // mm along a loop at least; figures of a motif are smaller
	loopWide     = 0.9  // mm: twice the area over the length; less is a line sewn there and back
	longestDash  = 20.0 // mm: longer stretches of a broken line are lines of their own
	widestGap    = 9.0  // mm from dash to dash
	evenGaps     = 1.6  // times the widest gap so far: a wider one leads to another line
	gapsOfDash   = 0.8  // of the first dash: no narrower gap is held against the next
	leastDashes  = 4    // in a broken line
	leastLength  = 20.0 // mm round the smallest piece: scissors need as much
	windingMost  = 2.5  // times as long as the way round its box: what winds about so is a ground, no line

	// Likeness.
	FollowWithin = 4.0  // mm: a line is followed this far from it: 2.5 mm inside and some for a rough hand
	bandWithin   = 4.7  // mm: and by the middle of a zigzag or a satin, which may be 4 mm wide
	thinShare    = 0.5  // of the breadth inside: a small piece's far side must not follow its near one
	FollowShare  = 0.85 // of both lines must be that near
	alongShare   = 0.8  // of a stretch of stitching must be that near to lie along the line
	overlapMost  = 0.3  // of a stretch: what goes more over the same ground begins another round
	tinyStretch  = 0.05 // of the way round: so little belongs to any round
	leastShare   = 0.35 // of a line that a round must reach along to count; the rest may lie under other pieces
	sideLooks    = 9.5  // mm: the needle holes of a cover 12 mm wide moved by 3 mm lie this near

	// Makes.
	lineWidth    = 1.2  // mm across: what is narrower is a line
	motifThread  = 1.18 // times the way along it: a line that takes more makes figures
	doubleThread = 1.5  // times: more is sewn twice
	tripleThread = 2.5  // times: more is sewn three times
	sameHole     = 0.25 // mm: as near as rounding lets a needle come back to its hole, and a little
	blanketHoles = 0.2  // share of stitches that come back to the hole but one before: the teeth of a blanket stitch
	sparsePitch  = 0.75 // mm between penetrations on one rail: a satin so open may be meant for a zigzag that holds cloth
	openPitch    = 0.55 // mm: one so open leaves a fifth of an edge bare, and may be meant for it where other stitching goes over it later
	narrowCover  = 1.8  // mm: narrower satin covers no edge; 2.5 mm is called narrow for it
	coverFar     = 3.5  // mm that satin may miss it by where it goes evenly all round beside it
	coverBeside  = 2.0  // mm that a cover may miss the line or the tack-down by and still be meant for it

	// What lies inside.
	fillShare    = 0.6  // of the inside sewn full: an outline of stitching
	fillBeyond   = 0.3  // of the ground just outside: less, and the fill ends at the line
	meshShare    = 0.5  // of a line that other stitching lies over: a net
	laidOnShare  = 0.12 // of the inside sewn on before any cloth is held
	besideWithin = 1.6  // mm: a line this near satin runs along it
	besideShare  = 0.8  // of its length

	// Bounds, so that hostile files take linear time. Where one is reached the report says so.
	mostTraces   = 3000   // lines looked at; more are stippling, not applique
	mostPieces   = 400    // pieces told; more than any block has
	mostLooks    = 60_000 // comparisons of stitching with a line
	mostCompared = 40_000 // comparisons of lines with the edges that were found
	sidesALook   = 1000   // sides of lines looked at that count as one more comparison
	mostNested   = 250    // lines of one stop that are held against one another, whether they lie in one another
	mostRounds   = 12     // rounds along one line
	mostLoops    = 64     // lines that one run is cut into; more are stippling
	mostSharp    = 12     // corners tried as the beginning of a loop
	beamWidth    = 8      // readings of the whole sequence kept side by side
)
