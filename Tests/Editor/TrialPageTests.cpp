#include "Editor/TrialPage.h"

#include "Editor/Screen.h"
#include "Editor/TextAudit.h"

using namespace tarry;
using namespace tarry::test;

TEST_CASE("Trial page: asks, and tells nothing before the end", "[editor]")
{
    Screen screen(madeUpModel("frozen"));
    screen.body->setPage(Body::Page::trial);
    find<juce::TextButton>(*screen.body, "Start")->onClick();
    CHECK(screen.target->asked.back() == "trial");
    screen.body->refresh();
    auto* second = find<juce::TextButton>(*screen.body, "Second answer");
    CHECK(second->getButtonText() == "The hidden one is as recorded");
    CHECK_FALSE(second->isEnabled()); // both have to be heard first
    const auto key = [&](char typed)
    { return screen.body->keyPressed(juce::KeyPress(typed, 0, static_cast<juce::juce_wchar>(typed))); };
    const auto asked = screen.target->asked.size();
    CHECK(key('2'));
    CHECK(screen.target->asked.size() == asked);
    CHECK(key('b'));
    CHECK(screen.target->model.trial.hearing == TrialSound::b);
    CHECK(key('a'));
    screen.target->model.trial.mayAnswer = true;
    screen.body->refresh();
    second->onClick();
    CHECK(screen.target->asked.back() == "answer B");
    CHECK(key('1'));
    CHECK(screen.target->asked.back() == "answer A");
}

TEST_CASE("Trial page: no text is cut at any stage of a trial", "[editor]")
{
    std::vector<TrialValues> stages(6);
    stages[1].running = stages[1].matching = true;
    stages[1].secondsLeft = 10;
    stages[2].running = true;
    stages[2].answered = 15;
    stages[2].preference = true;
    stages[2].toHear = "Hear the second one too.";
    stages[2].yes = "The first is better";
    stages[2].no = "The second is better";
    stages[3].obstacle = "There is no lag to compare with: apply one, or set one by hand. Then start the trial again.";
    stages[4].note =
        "The trial ended without a result: the host changed the sample rate, so the loudness no longer holds.";
    stages[5].finished = true;
    stages[5].result = "11 of 16 right: that shows no difference, nor does it prove that there is none.";
    stages[5].details =
        "By guessing alone as many come 11 times in 100 (p = 0.105, one-sided binomial test).\n"
        "Spot delayed by 199.999 ms, polarity inverted, right side by 123.400 ms, polarity normal; room "
        "\u221212.0 dB in the blend; aligned was \u22120.4 LU before matching; order 18446744073709551615.";
    for (std::size_t i = 0; i < stages.size(); ++i)
    {
        auto model = madeUpModel("frozen");
        model.trial = stages[i];
        Screen screen(model);
        screen.body->setPage(Body::Page::trial);
        if (i == 5) find<juce::TextButton>(*screen.body, "Details")->onClick();
        TextAudit audit;
        const auto image = screen.picture(1.0F);
        INFO("stage " << i << ": " << audit.cut.joinIntoString("; "));
        CHECK(audit.cut.isEmpty());
        CHECK(audit.lines > 10);
        keepPicture(image, "stage-" + juce::String(static_cast<int>(i)) + ".trial");
    }
}

TEST_CASE("Trial page: during a trial what would not be heard is disabled and says why; afterwards all is as before",
          "[editor]")
{
    Screen screen(madeUpModel("frozen"));
    auto& body = *screen.body;
    juce::TooltipWindow* tips = nullptr;
    for (auto* child : body.getChildren())
        if (auto* found = dynamic_cast<juce::TooltipWindow*>(child)) tips = found;
    REQUIRE(tips != nullptr);

    const auto isOfTheTrial = [](const juce::Component& c)
    {
        for (const auto* at = &c; at != nullptr; at = at->getParentComponent())
            if (at->getTitle() == "Blind trial" || at->getTitle() == "Page" || at->getTitle() == "Keys" ||
                at->getTitle() == "All reasons" || at->getTitle() == "Hits")
                return true;
        return dynamic_cast<const juce::ScrollBar*>(c.getParentComponent()) != nullptr;
    };
    const auto stateOfAll = [&]
    {
        std::map<juce::String, bool> enabled;
        for (int page = 0; page < pageCount; ++page)
        {
            body.setPage(static_cast<Body::Page>(page));
            eachVisible(body,
                        [&](juce::Component& c)
                        {
                            if (isControl(c) && !isOfTheTrial(c)) enabled[c.getTitle()] = c.isEnabled();
                        });
        }
        return enabled;
    };

    const auto before = stateOfAll();
    screen.target->model.trial.running = true;
    REQUIRE(body.refresh());
    // Of its own page only the answers wait, until both have been heard, and that is what they say.
    body.setPage(Body::Page::trial);
    for (const auto* answer : {"First answer", "Second answer"})
    {
        auto* button = find<juce::TextButton>(body, answer);
        CHECK_FALSE(button->isEnabled());
        CHECK(button->getTooltip().contains("once both have been heard"));
        CHECK_FALSE(tips->getTipFor(*button).containsIgnoreCase("blind trial runs")); // it would hide the other
    }
    screen.target->model.trial.mayAnswer = true;
    REQUIRE(body.refresh());
    for (int page = 0; page < pageCount; ++page)
    {
        body.setPage(static_cast<Body::Page>(page));
        TextAudit audit;
        const auto image = screen.picture(1.0F);
        CHECK(audit.cut.isEmpty());
        eachVisible(body,
                    [&](juce::Component& c)
                    {
                        if (!isControl(c)) return;
                        INFO("\"" << c.getTitle() << "\", page " << pageNames[page] << ", says \"" << tips->getTipFor(c)
                                  << "\"");
                        CHECK(c.isEnabled() == isOfTheTrial(c));
                        CHECK(tips->getTipFor(c).containsIgnoreCase("blind trial runs") == !isOfTheTrial(c));
                    });
    }
    // Neither mouse nor keys get past it where a view draws itself.
    const auto asked = screen.target->asked;
    body.setPage(Body::Page::picture);
    find<LagReadout>(body, "Lag")->keyPressed(juce::KeyPress(juce::KeyPress::rightKey));
    find<LanesView>(body, "Attack picture")->keyPressed(juce::KeyPress(juce::KeyPress::deleteKey));
    CHECK(screen.target->asked == asked);

    screen.target->model.trial = {};
    REQUIRE(body.refresh());
    CHECK(stateOfAll() == before);
    CHECK(before.size() > 20);
}
