"""The wall itself: bricks, bonds, regions, joints in any region, and cracks on the joint net."""
