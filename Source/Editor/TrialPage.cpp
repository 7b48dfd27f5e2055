#include "Editor/TrialPage.h"

#include "Editor/Look.h"
#include "Editor/TextAudit.h"
#include "Editor/Words.h"

namespace tarry
{
TrialPage::TrialPage(TrialTarget& target)
    : question("Question",
               {{"Which is X?", "X is one of the two at random: say which. Shows whether you hear a difference."},
                {"Which is better?", "A and B are the two at random: say which you prefer."}}),
      hear("Hear", {{"X", "Hear the unknown one."}, {"A", "Hear A."}, {"B", "Hear B."}})
{
    setTitle("Blind trial");
    setWantsKeyboardFocus(true);
    const auto add = [this](juce::TextButton& button, const juce::String& text, const juce::String& help)
    {
        button.setButtonText(text);
        describe(button, button, text, help);
        addChildComponent(button);
    };
    add(start, "Start",
        "Starts a trial with both blends at the same loudness. Until its end nothing tells which is which.");
    add(stop, "Stop", "Ends the trial without a result.");
    add(copy, "Copy result", "Copies the result as text.");
    add(answerA, "X is A", "Answers A and goes on.");
    add(answerB, "X is B", "Answers B and goes on.");
    addChildComponent(question);
    addChildComponent(hear);
    question.choose(0);
    start.onClick = [this, &target] { target.start(question.chosen() == 1); };
    stop.onClick = [&target] { target.stop(); };
    copy.onClick = [this] {
        juce::SystemClipboard::copyTextToClipboard("Tarry, blind trial: " +
                                                   juce::String::fromUTF8(trial.result.c_str()));
    };
    hear.onChange = [&target](int which) { target.hear(static_cast<TrialSound>(which)); };
    answerA.onClick = [&target] { target.answer(true); };
    answerB.onClick = [&target] { target.answer(false); };
    question.onChange = [this](int) { repaint(); };
}

void TrialPage::update(const EditorModel& model)
{
    if (shownOnce && trial == model.trial) return;
    shownOnce = true;
    trial = model.trial;
    const bool asking = trial.running && !trial.matching;
    // What is there now takes the keyboard over from what goes away.
    const bool hadKeyboard = hasKeyboardFocus(true);
    const bool turnsToAsking = asking && !hear.isVisible(), turnsToWaiting = trial.running && start.isVisible();
    const bool turnsToEnd = !trial.running && stop.isVisible();
    question.setVisible(!trial.running);
    start.setVisible(!trial.running);
    start.setEnabled(trial.obstacle.empty());
    start.setButtonText(trial.result.empty() ? "Start" : "Again");
    stop.setVisible(trial.running);
    copy.setVisible(!trial.running && !trial.result.empty());
    hear.setVisible(asking);
    answerA.setVisible(asking);
    answerB.setVisible(asking);
    answerA.setButtonText(trial.preference ? "A is better" : "X is A");
    answerB.setButtonText(trial.preference ? "B is better" : "X is B");
    answerA.setTitle(answerA.getButtonText());
    answerB.setTitle(answerB.getButtonText());
    hear.offer(static_cast<int>(TrialSound::x), !trial.preference); // there is no X to prefer
    hear.choose(static_cast<int>(trial.hearing));
    if (hadKeyboard && turnsToAsking)
        hear.grabKeyboardFocus();
    else if (hadKeyboard && turnsToWaiting)
        grabKeyboardFocus(); // not Stop, which one Return too many would press
    else if (hadKeyboard && turnsToEnd)
        (copy.isVisible() ? copy : start).grabKeyboardFocus();
    setDescription(explanation());
    repaint();
}

juce::String TrialPage::progress() const
{
    if (trial.matching)
        return "Play the passage. Both blends are measured, to be equally loud: " + juce::String(trial.secondsLeft) +
               " s to go.";
    return juce::String(trial.answered + 1) + " of " + juce::String(trial.presentations) +
           (trial.preference ? ": which is better, A or B?" : ": is X the same as A (aligned) or B (as recorded)?");
}

juce::String TrialPage::explanation() const
{
    if (trial.running) return progress();
    if (!trial.result.empty()) // a figure and its sign on one line
        return juce::String::fromUTF8(trial.result.c_str())
            .replace("p = ", juce::String("p = ").replaceCharacter(' ', juce::juce_wchar{0xa0}));
    if (!trial.obstacle.empty()) return juce::String::fromUTF8(trial.obstacle.c_str());
    if (!trial.note.empty()) return juce::String::fromUTF8(trial.note.c_str());
    return "Does aligning make a difference here? " + juce::String(trial.presentations) +
           (question.chosen() == 1
                ? " pairs of blends in random order, equally loud: which do you prefer? "
                : " times X is the blend aligned or as recorded, at random, equally loud: which is it? ") +
           "The room is added for as long as the trial runs. " + monitorCaution;
}

void TrialPage::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const bool warns = !trial.running && trial.result.empty() && !(trial.obstacle.empty() && trial.note.empty());
    juce::AttributedString words;
    words.append(explanation(), Look::font(trial.running ? 16.0F : 13.0F), warns ? theme.caution : theme.ink);
    juce::TextLayout lines;
    lines.createLayout(words, static_cast<float>(getWidth()));
    const auto place = getLocalBounds().withHeight(trial.running ? 40 : 104).toFloat();
    TextAudit::noteLines(explanation(), lines.getHeight(), place);
    lines.draw(g, place);
    if (!trial.running || trial.matching) return;
    // One stroke for each presentation, filled when answered; nothing about right or wrong.
    const float step = static_cast<float>(getWidth()) / static_cast<float>(trial.presentations);
    for (int i = 0; i < trial.presentations; ++i)
    {
        const auto box = juce::Rectangle<float>(static_cast<float>(i) * step, 44.0F, step - 3.0F, 6.0F);
        g.setColour(i < trial.answered ? theme.ink : theme.dim);
        if (i < trial.answered)
            g.fillRect(box);
        else
            g.drawRect(box, 1.0F);
    }
}

void TrialPage::resized()
{
    auto area = getLocalBounds();
    hear.setBounds(area.withTop(66).withHeight(46));
    auto answers = area.withTop(122).withHeight(40);
    answerA.setBounds(answers.removeFromLeft(getWidth() / 2 - 1));
    answerB.setBounds(answers.withTrimmedLeft(2));
    stop.setBounds(area.withTop(192).withHeight(24).withWidth(80));
    question.setBounds(area.withTop(110).withHeight(30));
    start.setBounds(area.withTop(150).withHeight(34).withWidth(120));
    copy.setBounds(area.withTop(150).withHeight(34).withLeft(126).withWidth(120));
}
} // namespace tarry
