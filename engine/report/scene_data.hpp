// Scenes as data for a page's script: once what they are made of, then the places at each station.
#pragma once

#include "report/json.hpp"
#include "report/scene.hpp"

namespace trammel::report {

/// What a page's script knows a part by: how it is drawn.
const char* name_of(Part part);

/// Positions are for the eye: `per_mm` steps a millimetre, by default hundredths.
Json placed(double x, double per_mm = 100.0);

/// What is the same at every station: of strokes how many points, of discs the radius.
Json parts_of(const Scene& scene);

/// All points of a scene one after the other, as `parts_of` counts them.
Json places_of(const Scene& scene, double per_mm = 100.0);

}  // namespace trammel::report
