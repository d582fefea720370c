// A work unit: sample, screen, refine. What it finds depends on the brief, the seed and its number alone.
#pragma once

#include <atomic>
#include <cstdint>
#include <optional>

#include "search/setup.hpp"
#include "store/merit.hpp"

namespace trammel::search {

using store::ranks_before;

/// Runs work unit number `unit` ≥ 0. Of a brief with L linkages it is the next unit of linkage unit mod L, which so
/// runs as many as every other, on samples of its own range but of the same numbers: its own block of the sampling
/// sequence is screened, the best samples that differ are refined, and the results come back best first. Absent when
/// `cancel` was set before it was done; such a unit has not happened.
std::optional<store::UnitRow> run_unit(const Setup& setup, std::int64_t unit, const std::atomic<bool>* cancel);

}  // namespace trammel::search
