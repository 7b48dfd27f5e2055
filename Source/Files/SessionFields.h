#pragma once
#include "Files/SessionRecord.h"

#include <concepts>
#include <type_traits>

/// A session's record field by field, each kind of object once, for writing and reading alike: what Sheet.schema.json
/// documents. A visitor takes a key and a value; `ms`: seconds, kept as milliseconds; `number`: digits that are kept;
/// `wave`: samples.
namespace tarry::session_fields
{
// Digits after the point that are kept.
inline constexpr int ofNanoseconds = 9; // of a second
inline constexpr int ofDecibels = 2, ofShares = 4, ofPpm = 4, ofMetres = 3;
inline constexpr int ofChance = 6;

template <typename Fields, typename Object>
concept Is = std::same_as<std::remove_const_t<Fields>, Object>;

template <typename Visitor>
void visit(Visitor& field, Is<LagFigures> auto& figures)
{
    field.ms("lag_ms", figures.lag);
    field("polarity", figures.polarity);
    field("verdict", figures.verdict);
    field.number("confidence", figures.confidence, ofShares);
    field("reasons", figures.reasons);
    field("hits_found", figures.hitsFound);
    field("hits_used", figures.hitsUsed);
    field("hits_agreeing", figures.hitsAgreeing);
    field("hits_unheard", figures.hitsUnheard);
    field.ms("spread_ms", figures.spread);
    field.number("clear_db", figures.clearDb, ofDecibels);
    field.number("low_sum_normal_db", figures.lowSumNormal, ofDecibels);
    field.number("low_sum_inverted_db", figures.lowSumInverted, ofDecibels);
    field.number("attack_gain_db", figures.attackGainDb, ofDecibels);
    field.ms("flam_before_ms", figures.flamBefore);
    field.ms("flam_after_ms", figures.flamAfter);
    field.number("drift_ppm", figures.driftPpm, ofPpm);
    field.number("drift_ppm_sd", figures.driftPpmSd, ofPpm);
}

template <typename Visitor>
void visit(Visitor& field, Is<TapeFigures> auto& tape)
{
    field.number("taped_m", tape.metres, ofMetres);
    field.ms("difference_ms", tape.difference);
    field("agrees", tape.agrees);
    field("sentence", tape.sentence);
}

template <typename Visitor>
void visit(Visitor& field, Is<Moved> auto& moved)
{
    field.ms("by_ms", moved.by);
    field("since_cue", moved.sinceCue);
    field("since_take", moved.sinceTake);
    field.number("since_s", moved.sinceTime, ofNanoseconds);
    field("sentence", moved.sentence);
}

template <typename Visitor>
void visit(Visitor& field, Is<Envelope> auto& envelope)
{
    field.wave("low", envelope.low);
    field.wave("high", envelope.high);
}

template <typename Visitor>
void visit(Visitor& field, Is<AttackPicture> auto& attack)
{
    field.ms("start_ms", attack.start);
    field.ms("step_ms", attack.step);
    field("room", attack.room);
    field("spot_as_recorded", attack.spotAsRecorded);
    field("spot_aligned", attack.spotAligned);
}

template <typename Visitor>
void visit(Visitor& field, Is<ClipCut> auto& clip)
{
    field.number("start_s", clip.start, ofNanoseconds);
    field.number("end_s", clip.end, ofNanoseconds);
}

template <typename Visitor>
void visit(Visitor& field, Is<PrintRecord> auto& print)
{
    field("file", print.file);
    field("sha256", print.sha256);
    field("frames", print.frames);
    field("bytes", print.bytes);
    field("time_stamp_only", print.timeStampOnly);
    field.number("moved_samples", print.movedSamples, ofNanoseconds);
    field("clipped", print.clipped);
    field("format", print.format);
}

template <typename Visitor>
void visit(Visitor& field, Is<SessionRow> auto& row)
{
    field("line", row.line);
    field("cue", row.cue);
    field("take", row.take);
    field("setup", row.setup);
    field("instrument", row.instrument);
    field("note", row.note);
    field("spot", row.spotFile);
    field("room", row.roomFile);
    field("room_channel", row.roomChannel);
    field("clap", row.clap);
    field.number("temperature_c", row.temperature, ofDecibels);
    field("wished", row.wished);
    field.ms("lean_ms", row.lean);

    field("spot_rate", row.spotRate);
    field("room_rate", row.roomRate);
    field("spot_channels", row.spotChannels);
    field("room_channels", row.roomChannels);
    field("spot_frames", row.spotFrames);
    field("room_frames", row.roomFrames);
    field("spot_sha256", row.spotSha256);
    field("room_sha256", row.roomSha256);
    field("laid_by_time_stamp", row.laidByTimeStamp);
    field.ms("room_starts_after_ms", row.roomStartsAfter);
    field("notes", row.notes);

    field("failure", row.failure);
    field("own", row.own);
    field("pool", row.pool);
    field.ms("against_pool_ms", row.againstPool);
    field("from_pool", row.fromPool);
    field.ms("lag_ms", row.lag);
    field("polarity", row.polarity);
    field("verdict", row.verdict);
    field.number("confidence", row.confidence, ofShares);
    field("reasons", row.reasons);
    field.number("distance_m", row.distance, ofMetres);
    field("tape", row.tape);
    field.number("low_sum_normal_db", row.lowSumNormal, ofDecibels);
    field.number("low_sum_inverted_db", row.lowSumInverted, ofDecibels);
    field("moved", row.moved);

    field("decision", row.decision);
    field("decided_by", row.decidedBy);
    field("decided_on", row.decidedOn);
    field("wants_ear", row.wantsEar);
    field("print", row.print);
    field("recall_line", row.recallLine);
    field("attack", row.attack);
    field("clips", row.clips);
}

template <typename Visitor>
void visit(Visitor& field, Is<SetupRecord> auto& setup)
{
    field("name", setup.name);
    field("setup", setup.setup);
    field("instrument", setup.instrument);
    field("first_cue", setup.firstCue);
    field("first_take", setup.firstTake);
    field("last_cue", setup.lastCue);
    field("last_take", setup.lastTake);
    field("takes", setup.takes);
    field("takes_agreeing", setup.takesAgreeing);
    field("by_clap", setup.byClap);
    field("pooled", setup.pooled);
    field.ms("takes_spread_ms", setup.takesSpread);
}

template <typename Visitor>
void visit(Visitor& field, Is<MachineRecord> auto& machine)
{
    field("spot", machine.spot);
    field("room", machine.room);
    field.number("ppm", machine.ppm, ofPpm);
    field.number("ppm_sd", machine.ppmSd, ofPpm);
    field("takes", machine.takes);
    field("matters", machine.matters);
}

template <typename Visitor>
void visit(Visitor& field, Is<TallyRecord> auto& tally)
{
    field("asks_preference", tally.preference);
    field("name", tally.name);
    field("listeners", tally.listeners);
    field("answers", tally.answers);
    field("hits", tally.hits);
    field.number("p", tally.p, ofChance);
    field.number("low", tally.low, ofShares);
    field.number("high", tally.high, ofShares);
    field("listeners_for", tally.listenersFor);
    field("listeners_against", tally.listenersAgainst);
    field.number("listeners_p", tally.listenersP, ofChance);
}

template <typename Visitor>
void visit(Visitor& field, Is<SessionRecord> auto& record)
{
    field("tarry", record.version);
    field("build", record.build);
    field("plan", record.plan);
    field("planned", record.planned);
    field("whole_samples", record.wholeSamples);
    field("time_stamp", record.timeStamp);
    field("notes", record.notes);
    field("setups", record.setups);
    field("machines", record.machines);
    field("tallies", record.tallies);
    field("rows", record.rows);
}
} // namespace tarry::session_fields
