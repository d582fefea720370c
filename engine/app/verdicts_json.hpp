// Verdicts for programs: the numbers behind the tables of `check` and of reports.
#pragma once

#include "app/call.hpp"
#include "bike/layout.hpp"
#include "brief/brief.hpp"
#include "objectives/target.hpp"
#include "objectives/verdict.hpp"

namespace trammel::app {

/// "brief" or "sound by default".
const char* origin_word(objectives::Origin origin);

/// What is asked for: in words, and as limits.
Json asked_json(const objectives::Target& target);

/// A target with its verdict on a layout, whose gears it names.
Json verdict_json(const objectives::Target& target, const objectives::Verdict& verdict, const bike::Layout& layout);

/// The notes of a brief and of its targets by name.
Json notes_json(const brief::Brief& brief);

/// Keys of an assessment: score, margins, how many requirements are met, and every target and rule.
Json assessment_json(const std::vector<objectives::Target>& targets, const objectives::Assessment& assessment,
                     const bike::Layout& layout);

}  // namespace trammel::app
