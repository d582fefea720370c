// What stands under `search` and `references`.
#include "brief/brief.hpp"
#include "brief/field_parts.hpp"
#include "brief/scalar.hpp"

namespace trammel::brief {

void add_search(std::vector<Field>& table) {
  using enum Shape;
  const SearchOptions search;
  const auto count = [](auto number) { return exact_text(static_cast<double>(number)); };
  table.push_back({"search", group, "How to search."});
  // Seeds stop where whole numbers stop being exact in every reader of the file.
  table.push_back({"search.seed",
                   whole,
                   "Start of all random streams.",
                   false,
                   "",
                   {0, 9007199254740991.0},
                   {},
                   count(search.seed)});
  table.push_back({"search.units",
                   whole,
                   "Work units of a run without another budget.",
                   false,
                   "",
                   {1, 1e7},
                   {},
                   count(search.units)});
  table.push_back(
      {"search.samples", whole, "Layouts screened in a unit.", false, "", {1, 1e7}, {}, count(search.samples)});
  table.push_back(
      {"search.refine", whole, "Diverse starts refined in a unit.", false, "", {0, 1e4}, {}, count(search.refine)});
  table.push_back({"search.evaluations",
                   whole,
                   "Most evaluations of one refinement.",
                   false,
                   "",
                   {1, 1e6},
                   {},
                   count(search.evaluations)});
  table.push_back({"search.algorithm",
                   word,
                   "Refinement by NLopt, under its own name.",
                   false,
                   "",
                   {},
                   {"LD_LBFGS", "LD_SLSQP", "LD_MMA", "LD_CCSAQ", "LD_TNEWTON_PRECOND_RESTART", "LD_VAR2", "LN_BOBYQA",
                    "LN_COBYLA", "GN_CRS2_LM"},
                   '"' + search.algorithm + '"'});
  table.push_back({"search.shortlist", whole, "Layouts reported.", false, "", {1, 200}, {}, count(search.shortlist)});
  table.push_back({"search.distinct",
                   number,
                   "Least distance between shortlisted layouts: root mean square of the differences, each as a "
                   "fraction of its range.",
                   false,
                   "",
                   part,
                   {},
                   exact_text(search.distinct)});
  table.push_back({"search.distinct_curves",
                   number,
                   "How far apart shortlisted layouts also are in what the targets look at: the greatest difference at "
                   "any place of any target, in its tolerances; 0 = it does not matter.",
                   false,
                   "",
                   {0, 1000},
                   {},
                   exact_text(search.distinct_curves)});
  table.push_back({"search.room",
                   number,
                   "Margin that every requirement is to keep before preferences count: 0 = on its limit, 1 = in "
                   "the middle of its band or a tolerance inside. Where less is all there is, as much as there is.",
                   false,
                   "",
                   {0, 1},
                   {},
                   exact_text(search.room)});
  table.push_back(
      {"search.rank",
       word,
       "What the shortlist is ordered by, requirements met first: the score, or the share of built frames that keep "
       "every requirement, by which the best of four times as many layouts are then taken.",
       false,
       "",
       {},
       {"score", "yield"},
       "\"score\""});
  table.push_back(
      {"search.yield",
       number,
       "Share of built frames that shall keep every requirement: refinement then asks for the room that errors "
       "take up, to first order.",
       false,
       "",
       {0, 1, true, true},
       {},
       "the requirements as drawn"});
  table.push_back(
      {"search.grid",
       number,
       "Steps in which varied points are given out, each fixed in turn and the rest refined again. Points "
       "placed by distance and angle are on them, too, where both vary and the ranges hold a step; those at a "
       "given distance, as shock eyes, follow.",
       false,
       "mm",
       {0.01, 50},
       {},
       "a thousandth of a millimetre"});
  table.push_back({"search.eye_error",
                   number,
                   "By how much the eyes' distance topped out may be off the shock's length, so that with grid the "
                   "second eye comes to lie on it as well, where a step has that distance. Where none has, the report "
                   "says so.",
                   false,
                   "mm",
                   {0, 0.25, true},
                   {},
                   "the second eye follows, off the grid"});
  table.push_back({.path = "search.trade_offs",
                   .shape = list,
                   .meaning = "Trade-offs to lay open once the search is through: how far one group of targets gets at "
                              "what cost to another, requirements kept.",
                   .least = 1});
  table.push_back({"search.trade_offs[]", group, "One trade-off."});
  table.push_back({.path = "search.trade_offs[].between",
                   .shape = list,
                   .meaning =
                       "Two or three groups. A group is judged by its target that comes out worst, in tolerances "
                       "beyond what is asked for; negative = inside.",
                   .required = true,
                   .least = 2});
  table.push_back({.path = "search.trade_offs[].between[]",
                   .shape = list,
                   .meaning = "One group: names of targets.",
                   .least = 1,
                   .distinct = true});
  table.push_back({"search.trade_offs[].between[][]", text, "The name of a target."});
  table.push_back(
      {"search.trade_offs[].keep",
       word,
       "What every layout on the front must meet, packaging apart: the requirements, or the preferences of all targets "
       "that are in no group as well.",
       false,
       "",
       {},
       {"musts", "wishes"},
       "\"musts\""});
  table.push_back({"search.trade_offs[].resolution",
                   number,
                   "How far apart neighbours on the front may be, as a fraction of the ranges that it spans.",
                   false,
                   "",
                   {0.02, 0.5},
                   {},
                   exact_text(TradeOff().resolution)});
}

void add_references(std::vector<Field>& table) {
  using enum Shape;
  table.push_back({"references", group,
                   "Existing layouts to compare with: judged by the same targets, drawn beside the shortlist. They do "
                   "not steer the search."});
  table.push_back({"references.folder", text,
                   "A folder beside the brief; every file in it that ends in .yaml is a layout. A study keeps copies.",
                   true});
}

}  // namespace trammel::brief
