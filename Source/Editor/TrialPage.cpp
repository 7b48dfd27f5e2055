#include "Editor/TrialPage.h"

#include "Editor/Look.h"
#include "Editor/TextAudit.h"
#include "Editor/Words.h"

namespace tarry
{
namespace
{
constexpr int strokesTop = 44; // px: below two lines of the heading's type
}

TrialPage::TrialPage(TrialTarget& target)
    : question(
          "Question",
          {{"Which is the hidden one?",
            "The hidden one is aligned or as recorded, at random: say which. Shows whether you hear a difference."},
           {"Which is better?", "The first and the second are the two at random: say which you prefer."}}),
      hear("Compare", {{"Hidden", "Hear the hidden one. Key: X."},
                       {"Aligned", "Hear the first of the two. Key: A."},
                       {"As recorded", "Hear the second of the two. Key: B."}})
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
    add(more, "Details", "How likely it is by chance, what was compared, and the order's seed.");
    add(answerA, "First answer", "Answers and goes on, once both have been heard. Key: 1.");
    add(answerB, "Second answer", "Answers and goes on, once both have been heard. Key: 2.");
    addChildComponent(question);
    addChildComponent(hear);
    question.choose(0);
    start.onClick = [this, &target] { target.start(question.chosen() == 1); };
    stop.onClick = [&target] { target.stop(); };
    copy.onClick = [this]
    {
        juce::SystemClipboard::copyTextToClipboard(
            "Tarry, blind trial: " + juce::String::fromUTF8((trial.result + "\n" + trial.details).c_str()));
    };
    more.onClick = [this]
    {
        showsDetails = !showsDetails;
        more.setToggleState(showsDetails, juce::dontSendNotification);
        repaint();
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
    for (auto* button : {&copy, &more}) button->setVisible(!trial.running && !trial.result.empty());
    showsDetails = showsDetails && more.isVisible();
    more.setToggleState(showsDetails, juce::dontSendNotification);
    hear.setVisible(asking);
    answerA.setVisible(asking);
    answerB.setVisible(asking);
    answerA.setButtonText(juce::String::fromUTF8(trial.yes.c_str()));
    answerB.setButtonText(juce::String::fromUTF8(trial.no.c_str()));
    for (auto* button : {&answerA, &answerB}) enable(*button, trial.mayAnswer);
    hear.offer(static_cast<int>(TrialSound::x), !trial.preference); // there is no hidden one to prefer
    hear.rename(static_cast<int>(TrialSound::a), trial.preference ? "The first" : "Aligned");
    hear.rename(static_cast<int>(TrialSound::b), trial.preference ? "The second" : "As recorded");
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

bool TrialPage::press(const juce::KeyPress& key)
{
    if (!hear.isVisible()) return false;
    const auto typed = juce::CharacterFunctions::toLowerCase(key.getTextCharacter());
    const auto sound = juce::String("xab").indexOfChar(typed);
    if (typed == '1' || typed == '2')
    {
        if (trial.mayAnswer) (typed == '1' ? answerA : answerB).onClick();
    }
    else if (sound > 0 || (sound == 0 && !trial.preference))
        hear.onChange(sound);
    else
        return false;
    return true;
}

juce::String TrialPage::progress() const
{
    if (trial.matching)
        return "Play the passage. Both blends are measured, to be equally loud: " + juce::String(trial.secondsLeft) +
               " s to go.";
    return juce::String(trial.answered + 1) + " of " + juce::String(trial.presentations) +
           (trial.preference ? ": which is better? " : ": is the hidden one aligned, or as recorded? ") +
           juce::String::fromUTF8(trial.toHear.c_str());
}

juce::String TrialPage::explanation() const
{
    if (trial.running) return progress();
    if (!trial.result.empty()) return juce::String::fromUTF8(trial.result.c_str());
    if (!trial.obstacle.empty()) return juce::String::fromUTF8(trial.obstacle.c_str());
    if (!trial.note.empty()) return juce::String::fromUTF8(trial.note.c_str());
    return "Does aligning make a difference here? " + juce::String(trial.presentations) +
           (question.chosen() == 1
                ? " pairs of blends in random order, equally loud: which do you prefer? "
                : " times the hidden one is the blend aligned or as recorded, at random, equally loud: which is it? ") +
           "The room is added for as long as the trial runs: turn the monitors down first.";
}

void TrialPage::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const bool warns = !trial.running && trial.result.empty() && !(trial.obstacle.empty() && trial.note.empty());
    const auto show = [&](const juce::String& text, float size, juce::Colour colour, juce::Rectangle<int> place)
    {
        const auto lines = Look::paragraph(text, place.getWidth(), colour, size);
        TextAudit::noteLines(text, lines.getHeight(), place.toFloat());
        lines.draw(g, place.toFloat());
    };
    const bool large = trial.running || !trial.result.empty();
    show(explanation(), large ? Look::heading : Look::small, warns ? theme.caution : theme.ink,
         getLocalBounds().withHeight(large ? strokesTop : 90));
    if (showsDetails)
        show(juce::String::fromUTF8(trial.details.c_str()), Look::small, theme.dim, getLocalBounds().withTop(196));
    if (!trial.running || trial.matching) return;
    // One stroke for each presentation, filled when answered; nothing about right or wrong.
    const float step = static_cast<float>(getWidth()) / static_cast<float>(trial.presentations);
    for (int i = 0; i < trial.presentations; ++i)
    {
        const auto box =
            juce::Rectangle<float>(static_cast<float>(i) * step, static_cast<float>(strokesTop + 2), step - 3.0F, 6.0F);
        g.setColour(i < trial.answered ? theme.ink : theme.dim);
        if (i < trial.answered)
            g.fillRect(box);
        else
            g.drawRect(box, 1.0F);
    }
}

void TrialPage::resized()
{
    // Under the strokes of the presentations; no wider than a hand moves.
    const auto area = getLocalBounds().withWidth(juce::jmin(560, getWidth()));
    hear.setBounds(area.withTop(66).withHeight(46));
    auto answers = area.withTop(122).withHeight(40);
    answerA.setBounds(answers.removeFromLeft(area.getWidth() / 2 - 1));
    answerB.setBounds(answers.withTrimmedLeft(2));
    stop.setBounds(area.withTop(192).withHeight(24).withWidth(80));
    question.setBounds(area.withTop(100).withHeight(30));
    auto row = area.withTop(150).withHeight(34);
    start.setBounds(row.removeFromLeft(120));
    row.removeFromLeft(6);
    copy.setBounds(row.removeFromLeft(120));
    row.removeFromLeft(6);
    more.setBounds(row.removeFromLeft(80));
}
} // namespace tarry
