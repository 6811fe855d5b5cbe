using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Columns;

/// <summary>Headers in many languages: the words are those of the trade in each, the values our own.</summary>
public sealed class HeaderLanguageTests
{
    private static readonly LogQuantity[] InOrder = [LogQuantity.Date, LogQuantity.Clock, LogQuantity.Voltage, LogQuantity.Current,
        LogQuantity.Power];

    [Theory]
    [InlineData("German", "Datum;Uhrzeit;Spannung;Strom;Leistung")]
    [InlineData("German", "DATUM;UHRZEIT;Ausgangsspannung;Ladestrom;Wirkleistung")]
    [InlineData("French", "Date;Heure;Tension;Courant;Puissance")]
    [InlineData("French", "Date;Heure;Tension (V);Intensité (A);Puissance active (W)")]
    [InlineData("Spanish", "Fecha;Hora;Tensión;Corriente;Potencia")]
    [InlineData("Spanish", "Fecha;Hora;Voltaje;Intensidad;Potencia activa")]
    [InlineData("Italian", "Data;Ora;Tensione;Corrente;Potenza")]
    [InlineData("Portuguese", "Data;Hora;Tensão;Corrente;Potência")]
    [InlineData("Portuguese", "Data;Hora;Tensao;Corrente;Potencia ativa")]
    [InlineData("Dutch", "Datum;Tijd;Spanning;Stroom;Vermogen")]
    [InlineData("Polish", "Data;Godzina;Napięcie;Prąd;Moc czynna")]
    [InlineData("Polish", "Data;Godzina;Napiecie;Prad;Moc")]
    [InlineData("Czech", "Datum;Čas;Napětí;Proud;Výkon")]
    [InlineData("Czech", "Datum;Cas;Napeti;Proud;Cinny vykon")]
    [InlineData("Swedish", "Datum;Klockslag;Spänning;Ström;Effekt")]
    [InlineData("Danish", "Dato;Klokkeslæt;Spænding;Strøm;Effekt")]
    [InlineData("Danish", "Dato;Klokkeslaet;Spaending;Stroem;Aktiv effekt")]
    [InlineData("Norwegian", "Dato;Klokkeslett;Spenning;Strøm;Effekt")]
    [InlineData("Finnish", "Päivämäärä;Kellonaika;Jännite;Virta;Teho")]
    [InlineData("Finnish", "Paivamaara;Kellonaika;Jannite;Virta;Patoteho")]
    [InlineData("Turkish", "Tarih;Saat;Gerilim;Akım;Güç")]
    [InlineData("Turkish", "TARİH;SAAT;Voltaj;Akim;Guc")]
    [InlineData("Japanese", "日付;時刻;電圧（Ｖ）;電流（Ａ）;有効電力（Ｗ）")]
    [InlineData("Japanese", "日付;時刻;出力電圧;出力電流;消費電力")]
    [InlineData("Chinese", "日期;时间;电压(V);电流(A);有功功率(W)")]
    [InlineData("Chinese", "日期;時間;電壓;電流;功率")]
    [InlineData("Korean", "날짜;시각;전압;전류;유효전력")]
    [InlineData("English", "Date;Time;Voltage;Current;Power")]
    public void Date_and_clock_time_in_two_columns_are_joined_in_each_language(string language, string header)
    {
        LogText.Read read =
            LogText.Of(header
            + "\n27.05.2031;23:59:59;5,00;0,900;4,50\n28.05.2031;00:00:00;5,00;0,902;4,51\n28.05.2031;00:00:01;5,01;0,900;4,51\n");

        Assert.Equal(InOrder, read.Layout.Columns.Select(c => c.Quantity));
        Assert.Equal([0.0, 1, 2], read.Samples.Select(s => s.TimeS));
        Assert.Equal([4.50, 4.51, 4.51], read.Samples.Select(s => s.PowerW));
        Assert.Equal(language, read.Layout.HeaderLanguage!.Split(" or ")[0]);
        Assert.Empty(read.Outcome.Faults);
    }

    [Theory]
    [InlineData("Zeit (Sekunden);Scheinleistung (VA);Leistungsfaktor", LogQuantity.Time, LogQuantity.ApparentPower,
        LogQuantity.PowerFactor)]
    [InlineData("Zeitstempel;Zählerstand (kWh);Temperatur", LogQuantity.Time, LogQuantity.Energy, LogQuantity.Temperature)]
    [InlineData("Zeitpunkt;Blindleistung (var);Wirkleistung (W)", LogQuantity.Time, LogQuantity.Ignored, LogQuantity.Power)]
    [InlineData("temps (s);puissance apparente (VA);facteur de puissance", LogQuantity.Time, LogQuantity.ApparentPower,
        LogQuantity.PowerFactor)]
    [InlineData("horodatage;puissance réactive;puissance (W)", LogQuantity.Time, LogQuantity.Ignored, LogQuantity.Power)]
    [InlineData("tiempo;factor de potencia;potencia aparente", LogQuantity.Time, LogQuantity.PowerFactor, LogQuantity.ApparentPower)]
    [InlineData("tempo;energia attiva (Wh);frequenza", LogQuantity.Time, LogQuantity.Energy, LogQuantity.Frequency)]
    [InlineData("czas;energia (Wh);temperatura", LogQuantity.Time, LogQuantity.Energy, LogQuantity.Temperature)]
    [InlineData("čas;spotřeba (Wh);teplota", LogQuantity.Time, LogQuantity.Energy, LogQuantity.Temperature)]
    [InlineData("tid;skenbar effekt;effektfaktor", LogQuantity.Time, LogQuantity.ApparentPower, LogQuantity.PowerFactor)]
    [InlineData("aika;näennäisteho;tehokerroin", LogQuantity.Time, LogQuantity.ApparentPower, LogQuantity.PowerFactor)]
    [InlineData("zaman;görünür güç;güç faktörü", LogQuantity.Time, LogQuantity.ApparentPower, LogQuantity.PowerFactor)]
    [InlineData("時刻;皮相電力;力率", LogQuantity.Time, LogQuantity.ApparentPower, LogQuantity.PowerFactor)]
    [InlineData("時刻;積算電力量(Wh);無効電力", LogQuantity.Time, LogQuantity.Energy, LogQuantity.Ignored)]
    [InlineData("时间;视在功率;功率因数", LogQuantity.Time, LogQuantity.ApparentPower, LogQuantity.PowerFactor)]
    [InlineData("시간;피상전력;역률", LogQuantity.Time, LogQuantity.ApparentPower, LogQuantity.PowerFactor)]
    [InlineData("시간;전력량(Wh);온도", LogQuantity.Time, LogQuantity.Energy, LogQuantity.Temperature)]
    public void Longer_names_are_told_from_the_shorter_ones_in_them(string header, LogQuantity first, LogQuantity second, LogQuantity third)
    {
        string rows = string.Concat(Enumerable.Range(0, 12).Select(i => InvariantText.Of($"{i};{10 + i};0.{i + 50}\n")));

        LogText.Read read = LogText.Of(header + "\n" + rows, new LogOptions { Columns = new Dictionary<LogQuantity, ColumnChoice>() });

        Assert.Equal([first, second, third], read.Layout.Columns.Select(c => c.Quantity));
    }

    [Fact]
    public void A_word_that_may_mean_something_else_is_doubted_where_the_language_rests_on_it()
    {
        const string Log = "Zeit;Last\n0;4.5\n1;4.6\n2;4.4\n";

        LogText.Read read = LogText.Of(Log);

        Assert.Equal(LogQuantity.Power, read.Layout.Columns[1].Quantity);
        Assert.Contains(read.Layout.Notes, n => n.Contains("\"Last\" is the load", StringComparison.Ordinal));
        Assert.Throws<InputException>(() => LogText.Of(Log, new LogOptions { Strict = true }));
    }

    [Fact]
    public void A_language_that_three_columns_speak_leaves_no_doubt_about_a_fourth()
    {
        LogText.Read read = LogText.Of("temps;tension;courant;température\n0;5;0.9;21\n1;5;0.9;21\n2;5;0.9;21\n", new LogOptions
        {
            Strict = true,
        });

        Assert.Equal([LogQuantity.Time, LogQuantity.Voltage, LogQuantity.Current, LogQuantity.Temperature],
            read.Layout.Columns.Select(c => c.Quantity));
        Assert.Equal("French", read.Layout.HeaderLanguage);
    }

    [Fact]
    public void Signs_alone_belong_to_no_language() => Assert.Null(LogText.Of("t;U;I\n0;5;0.9\n1;5;0.9\n").Layout.HeaderLanguage);

    [Theory]
    [InlineData("Zeitpunkt;Leistung", "W", 4.5)]
    [InlineData("time;power", "W", 4.5)]
    public void Power_without_a_unit_is_read_with_a_doubt_and_refused_under_strict(string header, string unit, double firstW)
    {
        string log = header + "\n0;4.5\n1;4.6\n2;4.4\n";

        LogText.Read read = LogText.Of(log);

        Assert.Equal((unit, firstW), (read.Layout.Columns[1].Unit, read.Samples[0].PowerW));
        Assert.Contains(read.Layout.Notes, n => n.Contains("names no unit; W was taken", StringComparison.Ordinal));
        Assert.Contains("names no unit", Assert.Throws<InputException>(() => LogText.Of(log, new LogOptions { Strict = true })).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Thousands_of_watts_without_a_unit_are_milliwatts()
    {
        LogText.Read read = LogText.Of("Zeitpunkt;Leistung\n0;4500\n1;4600\n2;4400\n");

        Assert.Equal([4.5, 4.6, 4.4], read.Samples.Select(s => Math.Round(s.PowerW, 9)));
    }

    [Fact]
    public void A_counter_with_a_unit_tells_the_unit_of_power_and_leaves_no_doubt()
    {
        // 900 mW for an hour, a row a minute: 15 mWh a row.
        string rows = string.Concat(Enumerable.Range(0, 61).Select(i => InvariantText.Of($"{60 * i};900;{15 * i}\n")));

        LogText.Read read = LogText.Of("Zeit (s);Leistung;Energie (mWh)\n" + rows, new LogOptions { Strict = true });

        Assert.Equal(0.9, read.Samples[0].PowerW, 1e-12);
    }

    [Fact]
    public void Voltage_and_current_confirm_power_without_a_unit() =>
        Assert.Equal(4.5,
            LogText.Of("Zeit;Spannung;Strom;Leistung\n0;5;0.9;4.5\n1;5;0.9;4.5\n2;5;0.8;4.0\n3;5;0.9;4.5\n",
            new LogOptions { Strict = true }).Samples[0].PowerW);

    // What is agreed on or set is no reading, whatever stands first.
    [Theory]
    [InlineData("Zeit;Sollleistung;Istleistung", 2)]
    [InlineData("Zeit;Nennleistung (W);Leistung (W)", 2)]
    [InlineData("Data e ora;Potenza impegnata (W);Potenza assorbita (W)", 2)]
    [InlineData("Fecha;Potencia contratada (W);Potencia consumida (W)", 2)]
    [InlineData("time;power A (W);power B (W)", 2)]
    public void A_power_that_stands_still_or_is_set_gives_way_to_one_that_moves(string header, int taken)
    {
        LogText.Read read = LogText.Of(header + "\n2031-05-17T18:30:00;3000;5\n2031-05-17T18:30:10;3000;6\n2031-05-17T18:30:20;3000;5\n");

        Assert.Equal(LogQuantity.Power, read.Layout.Columns[taken].Quantity);
        Assert.Equal([5.0, 6, 5], read.Samples.Select(s => s.PowerW));
    }

    [Theory]
    [InlineData("5.094 VDC", "0.0616 ADC")]
    [InlineData("5.094V DC", "0.0616A DC")]
    public void Numbers_that_carry_their_units_need_no_word(string volts, string amperes)
    {
        LogText.Read read = LogText.Of($"time,ch1,ch2\n0,{volts},{amperes}\n1,{volts},{amperes}\n2,{volts},{amperes}\n");

        Assert.All(read.Samples, s => Assert.Equal((5.094, 0.0616), (s.VoltageV, s.CurrentA)));
    }
}
