// Limits of a run that the command line may set, as what they mean.
#pragma once

#include "app/study.hpp"
#include "search/threads.hpp"

namespace trammel::app {

/// All of these throw BadInput.

/// The instruction set asked for, or the widest.
objectives::InstructionSet instructions_for(const RunFlags& flags);
/// How many threads, and why so many.
search::ThreadChoice threads_for(std::optional<int> flag);
/// How far a run of a study goes.
search::Budget budget_of(const store::StudyHead& head, const RunFlags& flags, const search::ThreadChoice& threads);

}  // namespace trammel::app
