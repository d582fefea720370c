// The drawing that goes to the bench: one layout in one setting and size, topped out, at a stated scale, with every
// point's place from the bottom bracket.
#pragma once

#include <string>
#include <vector>

#include "report/drafting_sheet.hpp"
#include "report/standing.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// Names in the drawing's title block.
struct DrawingTitle {
  std::string title;   ///< of the layout
  std::string number;  ///< "layout 12-0"
  std::string of;      ///< "setting low, size M"; empty where there is one only
  std::string source;  ///< study, rank and engine
};

/// What a drawing says of its lengths.
struct DrawingTerms {
  const brief::Tolerances* tolerances = nullptr;  ///< of the layout's points; null where the brief gives none
  bool inches_too = false;                        ///< tables have inches in brackets, for reference
};

/// A sheet on the smallest paper of A3 and A2 on which the linkage stands at 1 : 2, else at 1 : 5.
///
/// `layout` stands by itself, its points topped out, frame axes, mm. Dimensions are rounded to 0.01 mm, those in inches
/// to 0.0001 in.
DraftingSheet workshop_drawing(const bike::Layout& layout, const bike::Pose& topped_out, const DrawingTerms& terms,
                               const DrawingTitle& title);

/// Names of the drawings' files, without their endings, one for each setting and size: "workshop", "workshop-low-M".
std::vector<std::string> workshop_names(const search::Sheet& sheet);
/// The drawings of a layout, in the order of their names.
std::vector<DraftingSheet> workshop_drawings(const search::StudyReport& study, const search::Sheet& sheet,
                                             const Standing& standing);

}  // namespace trammel::report
