package magnet

import "math"

// UsualRing is an alternating ring of bonded ferrite pressed over a cam of so
// many lobes, radiusM to its outer face: figures from memory, for when none are
// known. Measure the field of the ring at hand where it matters.
func UsualRing(lobes int, radiusM float64) Ring {
	r := Ring{
		Poles: 2 * lobes, RadiusM: radiusM,
		HeightM: 0.006, ThicknessM: 0.003,
		RemanenceT: 0.25, TempCoeff: -0.002, RefC: 20, // bonded ferrite
	}
	// Separate magnets, not wider than 5 mm, where the poles are few.
	if lobes > 0 {
		r.WidthM = math.Min(0.005, r.pitchM())
	}
	return r
}

// UsualUnipolar is a ring with one neodymium block of 4 x 4 x 2 mm for each
// lobe: figures from memory.
func UsualUnipolar(lobes int, radiusM float64) Ring {
	return Ring{
		Poles: lobes, RadiusM: radiusM, Unipolar: true,
		WidthM: 0.004, HeightM: 0.004, ThicknessM: 0.002,
		RemanenceT: 1.15, TempCoeff: -0.0012, RefC: 20,
	}
}

// UsualHall is a hall switch of middling sensitivity: operates at 15 mT,
// releases 3 mT lower, 0.3 mm square, 0.5 mm under its face, 5 microseconds:
// figures from memory.
func UsualHall() Switch {
	return Switch{
		OperateT: 0.015, ReleaseT: 0.012, RefC: 20,
		FaceM: 0.0003, DepthM: 0.0005, DelayS: 5e-6,
	}
}

// UsualReluctor is a reluctor with so many teeth, 15 mm in radius and 2 mm
// wide, and a coil of 2,000 turns on 4 microwebers (0.4 T over 10 mm2): figures
// from memory. Half a volt at cranking speed with a feeler's gap is usual.
func UsualReluctor(teeth int) Reluctor {
	return Reluctor{Teeth: teeth, RadiusM: 0.015, ToothM: 0.002, FluxWb: 4e-6, Turns: 2000}
}
