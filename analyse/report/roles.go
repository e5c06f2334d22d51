package report

// The roles of colour stops.
const (
	RoleStitching       = "stitching" // nothing better is known
	RoleClothOutline    = "cloth outline"
	RoleClothHoldDown   = "cloth hold-down"
	RolePlacementLine   = "placement line"
	RoleTackDown        = "tack-down"
	RoleCoverSatin      = "cover satin"
	RoleEdgeRun         = "edge run"
	RoleDecoration      = "decoration"
	RoleBattingHoldDown = "batting hold-down"
	RoleBackingHoldDown = "backing hold-down"
	RoleQuilting        = "quilting"
)

// Roles lists the roles that a colour stop or a part of one may have.
func Roles() []string {
	return []string{RoleStitching, RoleClothOutline, RoleClothHoldDown, RolePlacementLine, RoleTackDown, RoleCoverSatin,
		RoleEdgeRun, RoleDecoration, RoleBattingHoldDown, RoleBackingHoldDown, RoleQuilting}
}
