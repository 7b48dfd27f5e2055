#pragma once
#include "Files/SessionRecord.h"

#include <string>

namespace tarry
{
/// The rows of a recall sheet as a table for spreadsheets: this is sheet.csv. RFC 4180 (commas, quotes where needed, CR
/// LF), UTF-8 with a byte-order mark, without which spreadsheets guess another encoding; decimals with a point. One
/// line a row of the plan, in its order; an empty cell: not known, or does not apply. Several sentences in one cell
/// stand on lines of their own. Text that a spreadsheet would take for a formula (it begins with = + - @ or a tab) gets
/// an apostrophe before it; sheet.json has it as it was.
///
/// Columns, schema 1; later ones may follow on the right, none changes its meaning:
///   schema             1
///   line               of the plan, from 1
///   cue, take, setup, instrument
///   spot, room         files, as the plan writes them
///   room_channel       first, left, right, centre, or a number from 1
///   sample_rate        Hz, of the spot
///   lag_ms             how much later the room hears it; lean not in it
///   lag_samples        the same at sample_rate
///   polarity           normal or inverted
///   verdict            align, leave or unsure
///   confidence         0 to 1: probability that the lag is right to within 0.5 ms
///   reasons
///   hits_found, hits_used, hits_agreeing
///   spread_ms          robust standard deviation of the hits' own lags
///   pool               the setup whose pooled figures are shared; from_pool yes: they are the ones that count here
///   own_lag_ms         this take alone; against_pool_ms: own less pooled
///   moved_ms           where the take's lag left the setup's: by how much
///   distance_m         way through air that the lag stands for
///   taped_m, tape_difference_ms, tape_agrees
///   low_sum_normal_db, low_sum_inverted_db, attack_gain_db, drift_ppm
///   decision           align or leave
///   lean_ms            positive: the room leads
///   delay_ms           lag and lean where the decision is align, else 0
///   decided_by, decided_on
///   wants_ear          why somebody should listen
///   failure            why it was not measured or not printed
///   print, print_sha256
///   recall_line        one line that the plugin reads
///   note
[[nodiscard]] std::string toCsv(const SessionRecord& record);
} // namespace tarry
