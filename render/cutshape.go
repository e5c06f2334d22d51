package render

// CutMargin is how far a cut shape reaches past its placement line, in mm,
// unless it is set: a quarter of an inch, the lesser of the trade's two
// allowances (half an inch where cloth is cut by hand to a rectangle; common
// practice, no single source). A shape cut by template or machine follows the
// line, so the lesser one is enough to lay it by eye.
const CutMargin = 6.35
