package applique

// evidence is one thing that speaks for or against a reading: natural log-odds
// that a chain which shows it is applique so made rather than plain stitching.
// The values are judged from how blocks and plain embroidery are digitised, set
// so that the confidences of the truth sets come out right (see the test of
// calibration).
type evidence float64

const (
	// Order and pauses.
	anyChain        evidence = -1.0 // most closed lines that something follows are plain stitching
	threeStops      evidence = 2.0  // line, tack-down and cover, each in a stop of its own
	pauseToTrim     evidence = 0.8  // a stop lies between tack-down and cover only
	oneStopBoth     evidence = -1.6 // line and tack-down in one stop: no pause to lay
	tiedOff         evidence = 1.0  // the thread is tied off between the two and sews on: a pause between them was lost
	oneStopAll      evidence = -8.0 // everything in one stop: nothing can be laid
	coverInStop     evidence = -0.6 // tack-down and cover in one stop
	cutInStop       evidence = 1.0  // and the thread is cut between the two: an underlay goes on without; a run and a zigzag may both hold the cloth
	stopsBetween    evidence = -0.1 // each stop between line and tack-down that is none of these
	stopsBetweenMax evidence = -0.6
	satinUnused     evidence = -2.0 // a satin along the line that is no cover of it
	satinOwn        evidence = -5.0 // or one of the line's own stop all along it: the line is its underlay
	otherRounds     evidence = -0.6 // each other round between
	laterLine       evidence = -1.5 // each line that follows it before the tack-down: the first holds the cloth
	groundBefore    evidence = -3.0 // a net or a figured line sewn along it before the cloth
	coverBeneath    evidence = -3.0 // that cover is a zigzag, and a heavy line finishes the edge later: both hold the cloth
	coverSparse     evidence = -5.0 // and is so open that it may hold the cloth for what follows
	coverFirst      evidence = -0.6 // the satin comes before the tack-down: a mistake, but a rare one

	// The line.
	lineSingle  evidence = 0.4
	lineDouble  evidence = -1.0 // few mark a place with a line sewn twice
	lineTriple  evidence = -0.5
	lineZigzag  evidence = -0.8
	lineBlanket evidence = -2.0 // nobody marks a place with a blanket stitch: it is a tack-down whose line went astray
	lineClosed  evidence = 0.5
	lineOpen    evidence = -1.0 // an open line may end under another piece
	smallPiece  evidence = -1.2 // less than 10 mm across
	lineFollows evidence = -2.0 // for each line of an earlier stop that it follows itself, two at most
	lineSecond  evidence = -1.5 // and it is one of those sewn once more: the first shows where the cloth goes
	lineOfTack  evidence = -5.0 // one of two rounds in which a stop sews along a line of an earlier one, or one that a finish follows: a tack-down
	lineOfMany  evidence = -1.5 // its stop sews much besides lines of pieces
	lineOfManyT evidence = -0.4 // the same where a tack-down follows in another stop

	// The tack-down.
	tackLine    evidence = 0.4
	tackTriple  evidence = 0.4
	tackZigzag  evidence = 0.5
	tackSatin   evidence = -0.5 // a sparse one
	tackMotif   evidence = -1.5
	tackPartly  evidence = -2.0 // for each share of the line that it leaves out
	tackFar     evidence = -0.6 // for each mm beyond tackNear
	tackUneven  evidence = -1.0 // for each mm by which a line's distance varies beyond tackEven
	tackFarIn   evidence = -1.2 // drawn in evenly and too far, instead of tackFar
	tackRings   evidence = -3.0 // the outermost of several rings, each in the next: a shape filled by its outline
	lineRings   evidence = -3.0 // and so is a line of those
	tackMoved   evidence = -1.5 // the same line moved aside: a slip of the digitiser's
	tackTwice   evidence = 2.0  // in the line's own stop: sewn twice where the line is sewn once
	underlayTwo evidence = -2.5 // two single lines of one stop, one on each side of the satin's middle

	// The cover.
	coverSatin  evidence = 1.8
	coverZigzag evidence = 1.0
	coverBlank  evidence = 1.2
	coverMotif  evidence = 0.9
	coverThin   evidence = -1.5 // narrower than narrowCover
	coverDots   evidence = -8.0 // a row of dots, such as pearls: it hides no edge
	coverOff    evidence = -1.5 // for each mm by which it misses the tack-down
	coverAside  evidence = -0.5 // and by which it misses the line
	coverRound  evidence = -1.0 // the line goes round everything: it is the block's
	coverPartly evidence = -2.0 // for each share of the line that it leaves out

	// No tack-down: cloth cut beforehand.
	preCut       evidence = -1.2
	preCutCentre evidence = 0.9  // the cover lies evenly over the line
	preCutAside  evidence = -2.0 // or beside it: it would not hold the cloth
	preCutNext   evidence = 0.8  // and comes in the very next stop
	preCutPanel  evidence = 1.0  // one satin goes over several closed lines: its underlay would go along the edges between them once
	preCutZigzag evidence = -1.0 // a zigzag alone is more likely the tack-down
	preCutMotif  evidence = -2.0 // and a motif line alone holds next to nothing
	lineBuried   evidence = -2.0 // a line drawn in from the edge and sewn before the cloth is laid
	sewnOnLoose  evidence = -2.5 // stitching inside, where the cloth would lie loose
	preCutAmong  evidence = 3.5  // its stop sews lines of pieces, or other cloth is tacked down before its cover: no underlay is sewn so
	tackAside    evidence = 3.0  // the line is an earlier one that was left alone, moved aside: the tack-down of that
	tackAstray   evidence = 1.0  // a line left alone before its cover is this one, moved aside or set out: its tack-down
	ringInRing   evidence = -2.0 // lines of the same kind lie round it or in it: rings of satin

	// No cover: a raw edge.
	rawEdge          evidence = -1.0
	rawInside        evidence = 2.4  // the tack-down lies well inside the line, as where the edge is to show
	rawOnLine        evidence = -1.0 // on the very line: a line sewn once more
	rawLost          evidence = 3.5  // on it, and satin elsewhere is the same line moved aside: its cover
	rawFinished      evidence = 1.2  // on it, and a heavier line of a later stop goes over the tack-down: nobody sews one line in three stops for its looks
	rawOutside       evidence = -3.0 // outside it: a hold-down or an echo
	rawZigzag        evidence = 1.2  // a zigzag or a blanket stitch finishes an edge
	rawZigzagIn      evidence = 1.2  // well inside the line besides
	rawNarrow        evidence = -2.4 // it holds so little cloth that none is laid: a figure in a figure
	rawEcho          evidence = -2.5 // the line is one of several side by side
	rawBetween       evidence = -2.5 // the tack-down lies between two lines of one stop
	rawAgain         evidence = 0.6  // a second line follows inside, and is heavier
	rawLighter       evidence = -3.0 // no heavier line follows a heavy one: the last line of a raw edge shows, and is no lighter than the one under the cloth
	rawOnSatin       evidence = -4.0 // satin was sewn all along the line before: lines beside it are its edges
	rawBuries        evidence = -4.0 // satin or a fill would lie under the cloth, all of it; so too where it is cut beforehand
	rawCrowded       evidence = -2.5 // another such line of the same stops is near: cloths of one stop would lie over one another
	rawFramed        evidence = -2.5 // a later line frames it outside, where no cloth lies
	rawRound         evidence = -6.0 // the line goes round everything: it is the block's
	coverMissing     evidence = 2.2  // the other pieces of the design have a cover
	coverMissingElse evidence = 1.5  // the same, where the tack-down is made otherwise than theirs; see pairAlone

	// What lies inside.
	filledIn   evidence = -6.0 // sewn full before the cover: no cloth would show
	filledUnto evidence = -4.0 // sewn full up to the line before it: it outlines a fill
	linedOut   evidence = -4.0 // sewn over with lines before it, and not beyond: it outlines that texture
	meshIn     evidence = -4.0 // sewn over with lines after a line and a tack-down that no pause parts: lace and its outlines
	netOver    evidence = -5.0 // a net lies over the line before the cloth

	// How the design is made.
	styleOthers evidence = 1.5 // other chains of the design are applique
	styleTack   evidence = 0.6 // with the same kind of tack-down
	styleCover  evidence = 0.4 // or cover
	styleLine   evidence = 1.0 // or line, where few have such, and satin of a later stop lies over it
	styleStops  evidence = 1.2 // with line and tack-down in these very stops
	styleAsTack evidence = 1.5 // it is made as their tack-downs, and sewn in the stop of some
	styleNoTack evidence = -1.0

	zigzagAlone = -0.5 // what a zigzag along a line alone scores where it is told without others
)

// Limits of the evidence above, mm.
const (
	tackNear      = 1.2 // a tack-down nearer than this follows closely
	roundsOfTack  = 2.0 // between the rounds of one tack-down: a run and the zigzag that is sewn over it
	roundsOpen    = 0.1 // of a line that may be left open where rounds of a tack-down are told by it: it still goes round
	farMissed     = 1.0 // mm by which a cover counts as missing a tack-down that lies too far in: its line tells where it belongs
	tackEven      = 1.6 // mm that the distance of a tack-down may vary by under a rough hand
	rawLeast      = 0.9 // inside the line by more: it leaves an edge to be seen
	rawMost       = 5.0
	sketchEven    = 0.5 // mm by which the distance of a line from another may vary where both are made of one outline: more than files round; the lines of a sketch go aside of one another
	rawBreadth    = 3.0 // broad is what it holds, a circle of 6 mm or a strip of 3: scissors go round nothing smaller at 2 to 3 mm from the stitching
	roomBetween   = 6.0 // between the lines of two cloths laid together: each is cut 2 to 3 mm outside its stitching
	underlayApart = 0.9 // mm between the two lines of an edge-run underlay
	lineBare      = 0.4 // mm from the line that nearly all of a satin's holes lie beyond, where it leaves the line bare
	besideLine    = 0.6 // mm from the line that half of a satin's holes lie beyond, where it lies beside it: more than files round
	underlayEven  = 0.5 // mm by which the two may lie unlike far from it
	outsideLine   = -0.4
	ringsFewest   = 2   // rings beside the tack-down of a raw edge that fill a shape; one more may be a second row
	dotsFewest    = 6   // columns in a row of dots
	dotLongest    = 1.2 // times as long as wide is a dot
	dotsShare     = 0.8 // of the way along that a row of dots is sewn; columns that cover an edge leave no more than where other pieces lie over it
	centred       = 1.0 // the middle of a cover that lies evenly over its line
	movedAlike    = 0.6 // a line moved aside differs by so little from the line it was moved from
	tackAlike     = 0.5 // tack-downs of one design lie so evenly inside their lines
	smallAcross   = 9.5 // across: smaller pieces can hardly be cut
	roundSlackB   = 9.0 // a line that everything lies within, but for this, goes round the block
)
