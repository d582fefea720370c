// What stands under `linkage.picture`.
#include "brief/field_parts.hpp"
#include "brief/scalar.hpp"

namespace trammel::brief {
namespace {

constexpr Limits pixels{-20000.0, 20000.0};

}  // namespace

void add_picture(std::vector<Field>& table) {
  using enum Shape;
  table.push_back({"linkage.picture", group,
                   "The linkage read off a side view of the bike topped out, in pixels, x to the right and y down as "
                   "pictures are measured."});
  table.push_back({.path = "linkage.picture.points",
                   .shape = names,
                   .meaning = "All points of the linkage by name. The shock's eye on the frame is then moved along the "
                              "shock, by no more than the error of reading, so that the shock has its length.",
                   .required = true,
                   .least = 2});
  table.push_back({"linkage.picture.points.*", point, "Where the point lies.", false, "px", pixels});
  table.push_back({"linkage.picture.bottom_bracket", point, "The bottom-bracket axis.", true, "px", pixels});
  table.push_back({.path = "linkage.picture.level",
                   .shape = list,
                   .meaning =
                       "Two points of a line that is level, far apart: both axles where the wheels are equal, or "
                       "the ground.",
                   .required = true,
                   .least = 2});
  table.push_back({"linkage.picture.level[]", point, "One of them.", false, "px", pixels});
  table.push_back({.path = "linkage.picture.lengths",
                   .shape = list,
                   .meaning = "Known lengths, one or better two long ones: wheelbase, chainstay, a wheel. The scale is "
                              "their least-squares fit.",
                   .required = true,
                   .least = 1});
  table.push_back({"linkage.picture.lengths[]", group, "One known length."});
  table.push_back({"linkage.picture.lengths[].from", point, "Its one end.", true, "px", pixels});
  table.push_back({"linkage.picture.lengths[].to", point, "Its other end.", true, "px", pixels});
  table.push_back({"linkage.picture.lengths[].length", number, "How long it is.", true, "mm", {1, 3000}});
  table.push_back({"linkage.picture.reading",
                   number,
                   "How far off a point may have been read along either axis.",
                   false,
                   "px",
                   {0, 100},
                   {},
                   exact_text(picture_reading)});
  table.push_back({"linkage.picture.faces",
                   word,
                   "Which way the bike faces in the picture.",
                   false,
                   "",
                   {},
                   {"right", "left"},
                   "\"right\""});
}

}  // namespace trammel::brief
