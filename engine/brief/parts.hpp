// The parts of a brief, each read by its own file. All take a tree that has been through the shape check, report what
// the field table cannot say, and read on after a problem.
#pragma once

#include "brief/brief.hpp"
#include "brief/marked_tree.hpp"
#include "brief/problems.hpp"

namespace trammel::brief {

/// All of a brief that draws its own linkage, from a tree that has been through the shape check.
void read_parts(const Node& root, Brief& brief, Problems& problems);
/// All of a brief that names linkage templates: each is put on the brief's bike, and what comes of it is read as above.
void read_linkages(Node& root, Brief& brief, Problems& problems);

/// Position of what a value names among `known`. Reports one that is not, as a `kind` that `key` has not; −1 for that,
/// and for null or flawed values.
int find_name(const Node* value, const std::vector<std::string>& known, const std::string& kind, const std::string& key,
              Problems& problems);
/// Index of the linkage point that a value names. Reports an unknown one; −1 for that, and for null or flawed values.
int find_point(const Node* value, const linkage::Mechanism& mechanism, Problems& problems);
/// The same for a key that names a point; `value` is what stands under it.
int find_point(const Key& key, const Node& value, const linkage::Mechanism& mechanism, Problems& problems);
/// The same for a point at which parts turn on each other.
int find_pivot(const Node* value, const linkage::Mechanism& mechanism, Problems& problems);
/// The same for a member.
int find_member(const Node* value, const linkage::Mechanism& mechanism, Problems& problems);
/// What a file lacks for a curve; empty when it gives everything. Asks for keys, not for their values, so that a value
/// with a problem of its own is not reported again here.
std::string lacking(bike::Needs needs, const Node& root);
bool carries(const linkage::Member& member, int point);

/// Points, members, sliders, and what moves them: `linkage`, `shock` and `drive`.
void read_linkage(const Node& root, bike::Layout& layout, Problems& problems);
/// `linkage.picture`: makes millimetres of the pixels that the points hold so far.
void read_picture(const Node& root, bike::Layout& layout, Problems& problems);
/// `bike`, `drivetrain` and `sag`; needs the linkage.
void read_bike(const Node& root, bike::Layout& layout, Problems& problems);
/// The radius of a wheel given either way; 0 where it could not be read.
double wheel_radius(const Node* wheel);
/// Where a front's axle and head tube are, over what `out` holds; the rest of `bike.front` where it is given. False
/// when the axle could not be read.
bool read_front(const Node* front, bike::Front& out);
/// `drivetrain`; needs the linkage.
void read_drivetrain(const Node* node, bike::Layout& layout, Problems& problems);
/// Index of the gear that a value names. Reports an unknown one; −1 for that, for null or flawed values, and where the
/// drivetrain itself has a problem.
int find_gear(const Node& root, const Node* value, const bike::Layout& layout, Problems& problems);
/// `shock: spring:`; needs the shock and the sizes it may have. A measured table's file is written into the brief's
/// text, so that a study does not depend on it.
void read_spring(const Node& root, Brief& brief, Problems& problems);
/// `set_up` and `loads`; needs the rest of the layout.
void read_loads(const Node& root, bike::Layout& layout, Problems& problems);
/// Index of the load case that a value names. Reports an unknown one; −1 for that, for null or flawed values, and where
/// the cases themselves have a problem.
int find_load(const Node& root, const Node* value, const bike::Layout& layout, Problems& problems);
/// `settings` and `sizes`; needs the layout but for its spring.
void read_settings(const Node& root, Brief& brief, Problems& problems);
/// Where axles and centres of gravity lie in them; after all else has been read.
void check_settings(const Node& root, const Brief& brief, Problems& problems);
/// The setting or size that a value names, empty for all. Reports an unknown one.
std::string find_case(const Node* value, const bike::Layout& layout, Problems& problems);
/// The rules on the chain, which are targets on its curves; after `read_targets`.
void add_chain_rules(const Node& root, Brief& brief, Problems& problems);
/// `choose`; needs the layout, whose gears lose their chainring's number when it is chosen.
void read_choose(const Node& root, Brief& brief, Problems& problems);
/// The usual shock sizes that `choose` names by a word, within its limits.
std::vector<ShockSize> usual_shocks(const Node& choose);
/// `vary`, and whether the shock fits between its eyes; needs the layout and its choices.
void read_vary(const Node& root, Brief& brief, Problems& problems);
/// `targets`; needs the layout.
void read_targets(const Node& root, Brief& brief, Problems& problems);
/// `tolerances`, and whether what asks for them has them; needs the layout.
void read_tolerances(const Node& root, Brief& brief, Problems& problems);
/// What stands under `packaging` about bodies, regions and lengths; needs the layout.
void read_room(const Node& root, Brief& brief, Problems& problems);
/// `sound`: what holds unless the brief says otherwise; after `targets` and `packaging`.
void read_sound(const Node& root, Brief& brief, Problems& problems);
/// `packaging`, `search` and `references`; needs the layout.
void read_search(const Node& root, Brief& brief, Problems& problems);

}  // namespace trammel::brief
