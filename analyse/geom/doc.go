// Package geom is plane geometry in millimetres: points, boxes, polylines, rings
// and grids of cells for finding what lies near a place. It knows nothing of
// stitches.
package geom
